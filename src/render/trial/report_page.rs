//! The daily quality report as one page for the printer and the warranty file.
//!
//! One file that loads nothing and runs nothing; every name in it is escaped.

use chrono_tz::Tz;

use super::judged_text::{facts, held, of_heat};
use super::markup::{Markup, document, element, element_of, page_head};
use super::planned_words::{self, HOUR_HEAD, hour_row};
use super::report_text::{because, read_line, summary, trial_ids, welder_status};
use super::status_words::{NO_PLAN, how, status};
use super::withdrawn::{self, withdrawn_line};
use super::{OFFICE, amounts, certifies_nothing, setting_words, strip_words, verdict_words};
use crate::quality::{DayReport, KeptTrial, Status, WithdrawnTrial};
use crate::render::figures;
use crate::testweld::RunSetting;
use crate::units::UnitSystem;

/// The report of one day. The same report gives the same bytes.
pub fn report_page(report: &DayReport, zone: Tz, units: UnitSystem) -> String {
    let body = Markup::from([
        heading(report, zone),
        weather(report, zone, units),
        checkpoints(report, zone),
        report.trials.iter().map(|kept| trial(kept, zone, units)).collect(),
        withdrawn_section(&report.withdrawn, zone),
        foot(),
    ]);
    let page = Markup::from([head(report), element("body", &[], body)]);
    document(element("html", &[("lang", "en")], page))
}

fn head(report: &DayReport) -> Markup {
    let title = format!("Test welds {} - {}", report.date, report.site);
    page_head(&title, &[("format-detection", "telephone=no")], include_str!("report_page.css"))
}

fn heading(report: &DayReport, zone: Tz) -> Markup {
    let made = report.made_at.with_timezone(&zone).format("made %Y-%m-%d %H:%M").to_string();
    Markup::from([
        element_of("h1", &[], &report.site),
        element_of(
            "p",
            &[],
            &format!(
                "Daily quality report: test welds of {}",
                report.date.format("%A, %B %-d, %Y")
            ),
        ),
        element_of("p", &[("class", "set")], &summary(report)),
        element_of("p", &[("class", "quiet")], &made),
    ])
}

fn section(title: &str, body: Markup) -> Markup {
    element("section", &[], Markup::from([element_of("h2", &[], title), body]))
}

fn list(items: impl Iterator<Item = String>) -> Markup {
    element("ul", &[], items.map(|item| element_of("li", &[], &item)).collect())
}

/// A table with its head; every cell is text.
fn table(head: &[&str], rows: impl Iterator<Item = Vec<String>>) -> Markup {
    let cells = |cells: &[String]| -> Markup {
        cells.iter().map(|cell| element_of("td", &[], cell)).collect()
    };
    let head = head.iter().map(|name| element_of("th", &[("scope", "col")], name));
    let head = element("thead", &[], element("tr", &[], head.collect()));
    let rows: Markup = rows.map(|row| element("tr", &[], cells(&row))).collect();
    element("table", &[], Markup::from([head, element("tbody", &[], rows)]))
}

fn weather(report: &DayReport, zone: Tz, units: UnitSystem) -> Markup {
    let mut items = Vec::new();
    if let Some(plan) = &report.plan {
        items.extend(planned_words::weather(plan, zone, units));
    }
    for (kept, forecast) in report.trials.iter().zip(&report.air_forecast) {
        let read = read_line(kept, *forecast, units);
        items.push(format!("{} {read}", figures::clock(kept.when(), zone)));
    }
    let hours = report.plan.as_ref().map_or_else(Markup::default, |at_hand| {
        let rows = at_hand.plan.hours.iter().map(|hour| hour_row(hour, zone, units).to_vec());
        table(&HOUR_HEAD, rows)
    });
    section("Weather, as forecast and as read", Markup::from([list(items.into_iter()), hours]))
}

fn checkpoints(report: &DayReport, zone: Tz) -> Markup {
    if report.plan.is_none() {
        return section("Checkpoints", element_of("p", &[], NO_PLAN));
    }
    let rows = report.checkpoints.iter().flat_map(|point| {
        let first = vec![
            figures::clock(point.due, zone),
            because(report, &point.id),
            "together".to_owned(),
            status(point.status),
        ];
        let welders = point.welders.iter().map(|one| {
            let made = trial_ids(report, &one.trials);
            let status = format!("{}{made}", welder_status(report, one));
            vec![String::new(), String::new(), one.welder.clone(), status]
        });
        std::iter::once(first).chain(welders).collect::<Vec<_>>()
    });
    let open = report.count(|status| !matches!(status, Status::Done));
    let open = match open {
        0 => "Every checkpoint of the plan was tested in time.".to_owned(),
        open => format!("{} not done in time, or not yet.", amounts::counted(open, "checkpoint")),
    };
    let body = Markup::from([
        element_of("p", &[("class", "open")], &open),
        table(&["Due", "Because", "Welder", "Test weld"], rows),
        element_of("p", &[("class", "quiet")], &how()),
    ]);
    section("Checkpoints", body)
}

/// Trials that were withdrawn, a line each; nothing where there is none.
pub(crate) fn withdrawn_section(withdrawn: &[WithdrawnTrial], zone: Tz) -> Markup {
    if withdrawn.is_empty() {
        return Markup::default();
    }
    section(withdrawn::TITLE, list(withdrawn.iter().map(|one| withdrawn_line(one, zone))))
}

/// A trial: what was set, every strip, what it proves, what was corrected.
pub(crate) fn trial(kept: &KeptTrial, zone: Tz, units: UnitSystem) -> Markup {
    let judged = &kept.judged;
    let title = format!("Trial {}, {}", kept.id, figures::clock(kept.when(), zone));
    let class = match judged.reading.setting {
        RunSetting::RunAt { .. } => "set",
        RunSetting::DoNotWeld(_) => "stop",
    };
    let mut notes: Vec<String> = Vec::new();
    let window = judged.reading.window.as_ref().filter(|_| class == "set");
    notes.extend(
        window.map(|window| format!("Window {}", setting_words::window(OFFICE, window, units))),
    );
    for ran in &kept.ran {
        let setting = setting_words::setting(OFFICE, ran.heat, ran.speed, units);
        notes.push(format!("Really run: {setting}"));
    }
    if let Some(correction) = &kept.correction {
        notes.push(format!("Corrected by {}: {}", correction.by, correction.why));
    }
    let odd = setting_words::odd_and_next(OFFICE, judged, units);
    notes.extend(odd.into_iter().map(|(what, next)| format!("{what} {next}")));
    let facts = facts(OFFICE, &judged.trial, kept.checkpoint.as_deref(), zone, units);
    let facts = facts.into_iter().map(|(name, value)| vec![name.to_owned(), value]);
    let body = Markup::from([
        element_of("p", &[("class", class)], &setting_words::headline(OFFICE, judged, units)),
        list(notes.into_iter()),
        table(&["As written down", ""], facts),
        strips(kept, units),
    ]);
    section(&title, body)
}

/// Every strip, one row each.
fn strips(kept: &KeptTrial, units: UnitSystem) -> Markup {
    let judged = &kept.judged;
    let rows = judged.heats.iter().flat_map(|heat| {
        let verdict = format!(
            "{}: {}",
            verdict_words::verdict(OFFICE, &heat.verdict),
            verdict_words::reason(OFFICE, heat, units)
        );
        let mut rows: Vec<Vec<String>> = of_heat(&judged.trial, heat)
            .flat_map(|tried| {
                let held = held(OFFICE, tried, units);
                let strips = tried.strips.iter();
                strips
                    .map(move |strip| format!("{}{held}", strip_words::strip(OFFICE, strip, units)))
            })
            .enumerate()
            .map(|(place, strip)| {
                vec![String::new(), (place + 1).to_string(), strip, String::new()]
            })
            .collect();
        if rows.is_empty() {
            rows.push(vec![String::new(), String::new(), "no strip".to_owned(), String::new()]);
        }
        if let Some([first, .., last]) = rows.first_mut().map(Vec::as_mut_slice) {
            *first = amounts::heat(heat.heat, units);
            *last = verdict;
        }
        rows
    });
    table(&["Heat", "Strip", "What it showed", "The heat"], rows)
}

fn foot() -> Markup {
    let rows = ["Foreman", "Welder operator"].map(|who| vec![who.to_owned(), String::new()]);
    let sign = table(&["Seen by", "Name, date, signature"], rows.into_iter());
    let sign = element("div", &[("class", "sign")], sign);
    section("Caution", Markup::from([element_of("p", &[], &certifies_nothing(OFFICE)), sign]))
}
