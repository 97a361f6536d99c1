//! The daily quality report and the month, as text.

use chrono_tz::Tz;

use super::judged_text::{heat_lines, trial_lines};
use super::layout::{bullet, cell, clean, page, section, wrap};
use super::planned_words::{self, HOUR_HEAD, hour_row};
use super::status_words::{NO_PLAN, how, status};
use super::withdrawn::{self, withdrawn_lines};
use super::{OFFICE, amounts, certifies_nothing, setting_words};
use crate::quality::{DayReport, KeptTrial, MonthSummary, Status};
use crate::render::figures;
use crate::units::{Temperature, UnitSystem};

/// The report of one day, in 80 columns.
pub fn report_text(report: &DayReport, zone: Tz, units: UnitSystem) -> String {
    let title = format!("{} - {}", report.site, report.date.format("%A, %B %-d, %Y"));
    let made = report.made_at.with_timezone(&zone).format("%Y-%m-%d %H:%M");
    let mut lines = wrap("DAILY QUALITY REPORT: TEST WELDS", "", "");
    lines.extend(wrap(&title, "", "  "));
    lines.extend(wrap(&format!("made {made}"), "", "  "));
    lines.extend(wrap(&summary(report), "", "  "));
    section(&mut lines, "Weather", weather(report, zone, units));
    section(&mut lines, "Hour by hour, as forecast", hours(report, zone, units));
    section(&mut lines, "Checkpoints", checkpoints(report, zone));
    for kept in &report.trials {
        let title = format!("Trial {}, {}", clean(&kept.id), figures::clock(kept.when(), zone));
        section(&mut lines, &title, trial(kept, zone, units));
    }
    section(&mut lines, withdrawn::TITLE, withdrawn_lines(&report.withdrawn, zone));
    lines.push(String::new());
    lines.extend(wrap(&how(), "", ""));
    lines.push(String::new());
    lines.extend(wrap(&certifies_nothing(OFFICE), "", ""));
    page(&lines)
}

/// A word and the states that it counts.
type Kind = (&'static str, fn(Status) -> bool);

/// `4 checkpoints: 3 done, 1 missed; 5 trials`.
pub(super) fn summary(report: &DayReport) -> String {
    let trials = amounts::counted(report.trials.len(), "trial");
    if report.plan.is_none() {
        return format!("{trials}. {NO_PLAN}");
    }
    let kinds: [Kind; 6] = [
        ("done", |status| matches!(status, Status::Done)),
        ("late", |status| matches!(status, Status::Late { .. })),
        ("missed", |status| matches!(status, Status::Missed)),
        ("proved nothing", |status| matches!(status, Status::ProvedNothing)),
        ("overdue", |status| matches!(status, Status::Overdue { .. })),
        ("not due yet", |status| matches!(status, Status::NotDue)),
    ];
    let counted = kinds.into_iter().map(|(name, wanted)| (report.count(wanted), name));
    let counted = counted.filter(|(count, _)| *count > 0);
    let counted = counted.map(|(count, name)| format!("{count} {name}"));
    let counted = counted.collect::<Vec<_>>().join(", ");
    let points = amounts::counted(report.checkpoints.len(), "checkpoint");
    let counted = if counted.is_empty() { String::new() } else { format!(": {counted}") };
    format!("{points}{counted}; {trials}.")
}

/// Source, range, and what was read at each trial against the forecast.
fn weather(report: &DayReport, zone: Tz, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(plan) = &report.plan {
        let items = planned_words::weather(plan, zone, units);
        lines.extend(items.iter().flat_map(|item| bullet(item)));
    }
    for (kept, forecast) in report.trials.iter().zip(&report.air_forecast) {
        let read = read_line(kept, *forecast, units);
        lines.extend(bullet(&format!("{} {read}", figures::clock(kept.when(), zone))));
    }
    lines
}

fn hours(report: &DayReport, zone: Tz, units: UnitSystem) -> Vec<String> {
    let Some(at_hand) = &report.plan else { return Vec::new() };
    let line = |cells: [&str; 7]| {
        let [first, rest @ ..] = cells;
        let rest: String = rest.iter().map(|text| format!(" {}", cell(text, 10))).collect();
        format!("  {}{}", cell(first, 6), rest.trim_end())
    };
    let hours = at_hand.plan.hours.iter();
    let rows = hours.map(|hour| hour_row(hour, zone, units));
    std::iter::once(line(HOUR_HEAD))
        .chain(rows.map(|row| line(row.each_ref().map(String::as_str))))
        .collect()
}

/// `air 62 °F read, 60 °F forecast; sheet 75 °F read`.
pub(super) fn read_line(
    kept: &KeptTrial,
    forecast: Option<Temperature>,
    units: UnitSystem,
) -> String {
    let trial = &kept.judged.trial;
    let forecast = forecast.map_or_else(String::new, |air| {
        format!(", {} by the plan's forecast", figures::temperature(air, units))
    });
    let sheet = trial.sheet.map_or_else(String::new, |sheet| {
        format!("; sheet {} read", figures::temperature(sheet, units))
    });
    format!("air {} as written down{forecast}{sheet}", figures::temperature(trial.ambient, units))
}

fn checkpoints(report: &DayReport, zone: Tz) -> Vec<String> {
    let mut lines = Vec::new();
    for point in &report.checkpoints {
        let head = format!("  {}  ", figures::clock(point.due, zone));
        let because = because(report, &point.id);
        lines.extend(wrap(&format!("{}: {because}", status(point.status)), &head, &" ".repeat(9)));
        for one in &point.welders {
            let made = trial_ids(report, &one.trials);
            let line = format!("{}: {}{made}", one.welder, welder_status(report, one));
            lines.extend(wrap(&line, &" ".repeat(9), &" ".repeat(11)));
        }
    }
    lines
}

/// Why the checkpoint is in the plan.
pub(super) fn because(report: &DayReport, id: &str) -> String {
    let plan = report.plan.as_ref().map(|at_hand| &at_hand.plan);
    let point = plan.and_then(|plan| plan.checkpoints.iter().find(|point| point.id == id));
    point.map_or_else(|| id.to_owned(), |point| point.because.clone())
}

/// A welder that was not tested at all on the day may not have been used.
pub(super) fn welder_status(
    report: &DayReport,
    one: &crate::quality::WelderAtCheckpoint,
) -> String {
    let used = report.welders.iter().any(|day| day.welder == one.welder && day.trials > 0);
    if used || !matches!(one.status, Status::Missed) {
        return status(one.status);
    }
    "no test weld on this day".to_owned()
}

/// ` (trial 3, trial 4)`.
pub(super) fn trial_ids(report: &DayReport, places: &[usize]) -> String {
    let ids: Vec<String> = places
        .iter()
        .filter_map(|place| report.trials.get(*place))
        .map(|kept| format!("trial {}", kept.id))
        .collect();
    if ids.is_empty() { String::new() } else { format!(" ({})", ids.join(", ")) }
}

fn trial(kept: &KeptTrial, zone: Tz, units: UnitSystem) -> Vec<String> {
    let judged = &kept.judged;
    let mut lines = wrap(&setting_words::headline(OFFICE, judged, units), "  ", "    ");
    for ran in &kept.ran {
        let setting = setting_words::setting(OFFICE, ran.heat, ran.speed, units);
        lines.extend(wrap(&format!("really run: {setting}"), "  ", "    "));
    }
    if let Some(correction) = &kept.correction {
        let line = format!("corrected by {}: {}", correction.by, correction.why);
        lines.extend(wrap(&line, "  ", "    "));
    }
    lines.extend(trial_lines(OFFICE, &judged.trial, kept.checkpoint.as_deref(), zone, units));
    lines.extend(heat_lines(OFFICE, judged, units));
    for (what, next) in setting_words::odd_and_next(OFFICE, judged, units) {
        lines.extend(bullet(&what));
        lines.extend(wrap(&next, "    => ", "       "));
    }
    lines
}

/// A month for the office.
pub fn month_text(site: &str, month: &MonthSummary) -> String {
    let title = format!("{site} - test welds of {}", month.month.format("%B %Y"));
    let mut lines = wrap(&title, "", "  ");
    if month.days.is_empty() {
        lines.extend(wrap("No plan and no trial of this month is at hand.", "", ""));
        return page(&lines);
    }
    lines.push(String::new());
    lines.push(format!(
        "  {:<16}{:>9}{:>7}{:>7}{:>9}{:>9}",
        "DAY", "PLANNED", "MADE", "LATE", "MISSED", "TRIALS"
    ));
    for day in &month.days {
        let mark = if day.planned_again { "~" } else { "" };
        let planned =
            day.planned.map_or_else(|| "?".to_owned(), |planned| format!("{planned}{mark}"));
        lines.push(format!(
            "  {:<16}{planned:>9}{:>7}{:>7}{:>9}{:>9}",
            day.date.format("%a %Y-%m-%d").to_string(),
            day.made,
            day.late,
            day.missed,
            day.trials
        ));
    }
    lines.push(format!(
        "  {:<16}{:>9}{:>7}{:>7}{:>9}{:>9}",
        "TOGETHER",
        month.planned(),
        month.made(),
        month.late(),
        month.missed(),
        month.trials()
    ));
    lines.push(String::new());
    let spent = format!(
        "About {} min spent on {}, at {} min each by the site's rule.",
        month.minutes_spent(),
        amounts::counted(month.trials(), "trial"),
        month.trial_minutes
    );
    lines.extend(wrap(&spent, "", ""));
    if month.withdrawn() > 0 {
        let trials = amounts::counted(month.withdrawn(), "trial");
        lines.extend(wrap(&format!("{trials} withdrawn, and not counted."), "", ""));
    }
    if month.days_planned_again() > 0 {
        let days = amounts::counted(month.days_planned_again(), "day");
        let line = format!(
            "{days} marked `~` without a plan kept: planned again from the forecast at hand. The \
             crew may have had other checkpoints."
        );
        lines.extend(wrap(&line, "", ""));
    }
    if month.days_without_plan() > 0 {
        let days = amounts::counted(month.days_without_plan(), "day");
        let line = format!(
            "{days} marked `?` without a plan at hand: what was planned and missed there is not \
             known, and not counted."
        );
        lines.extend(wrap(&line, "", ""));
    }
    page(&lines)
}
