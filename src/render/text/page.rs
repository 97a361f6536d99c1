//! The page: the day at a glance, when to test and what to set, the air along the day, advice.

use textwrap::{Options, WordSeparator};

use super::day_chart::day_chart;
use super::picture::picture;
use super::{COLUMNS, Paint};
use crate::plan::{Checkpoint, DayPlan, Setting, Span, Verdict};
use crate::render::{advice_words, figures, record_words, steers_a_terminal, words};

/// The plan as a page of 80 columns, with a line end after every line.
pub fn plan_text(plan: &DayPlan, paint: Paint) -> String {
    let mut lines = heading(plan, paint);
    section(&mut lines, paint, "At a glance", glance(plan));
    section(&mut lines, paint, "When to test, what to set", tests(plan, paint));
    let stand_by = plan.stand_by.iter();
    let stand_by = stand_by.flat_map(|test| bullet(&words::stand_by(test, plan.time_zone)));
    section(&mut lines, paint, "Stand by (not in the plan, but may fall due)", stand_by.collect());
    section(&mut lines, paint, "Air and sheet", picture(plan, paint));
    section(&mut lines, paint, "Hour by hour", day_chart(plan, paint));
    section(&mut lines, paint, "When it can be welded", spans(plan, paint));
    let notes = plan.notes.iter().flat_map(|note| bullet(&words::note(note, plan)));
    section(&mut lines, paint, "Notes", notes.collect());
    let advice = plan.advice.iter().flat_map(|advice| bullet(&advice_words::advice(advice, plan)));
    section(&mut lines, paint, "Advice", advice.collect());
    let how = words::how_to_test(plan.units).into_iter().flat_map(bullet);
    section(&mut lines, paint, "The test weld (common practice)", how.collect());
    let cautions = words::CAUTIONS.iter().flat_map(|caution| bullet(caution));
    section(&mut lines, paint, "Cautions", cautions.collect());
    lines.push(String::new());
    lines.extend(wrap(&plan.weather.attribution, "", ""));
    lines.push(String::new());
    lines.join("\n")
}

fn heading(plan: &DayPlan, paint: Paint) -> Vec<String> {
    let mut lines = Vec::new();
    if plan.weather.stale {
        let line = words::stale_line(plan.weather.age);
        lines.extend(wrap(&line, "", "").iter().map(|line| paint.verdict(Verdict::Hold, line)));
    }
    let title = format!("{} - {}", clean(&plan.site), plan.date.format("%A, %B %-d, %Y"));
    lines.extend(wrap(&title, "", "  ").iter().map(|line| paint.strong(line)));
    let mut weather = words::weather_line(&plan.weather, plan.time_zone);
    let names = |fields: &[crate::weather::Field]| {
        fields.iter().map(|field| field.name().replace('_', " ")).collect::<Vec<_>>().join(", ")
    };
    if !plan.weather.missing.is_empty() {
        weather.push_str(&format!("; not in it: {}", names(&plan.weather.missing)));
    }
    if !plan.weather.partly_missing.is_empty() {
        weather.push_str(&format!("; with gaps: {}", names(&plan.weather.partly_missing)));
    }
    if !plan.weather.bridged.is_empty() {
        let hours = plan.weather.bridged.iter().map(|at| figures::clock(*at, plan.time_zone));
        let hours = hours.collect::<Vec<_>>().join(", ");
        weather.push_str(&format!("; air bridged from the hours beside it at {hours}"));
    }
    lines.extend(wrap(&weather, "", "  "));
    lines
}

pub(in crate::render) fn section(
    lines: &mut Vec<String>,
    paint: Paint,
    title: &str,
    body: Vec<String>,
) {
    if body.is_empty() {
        return;
    }
    lines.push(String::new());
    lines.push(paint.strong(&title.to_uppercase()));
    lines.extend(body);
}

fn glance(plan: &DayPlan) -> Vec<String> {
    let clock = |at| figures::clock(at, plan.time_zone);
    let summary = &plan.summary;
    let weldable = match (summary.first_weldable, summary.last_weldable) {
        (Some(first), Some(last)) => format!(
            "from {} to {}, {} of work",
            clock(first),
            clock(last),
            figures::duration(summary.weldable)
        ),
        _ => "not at all in this shift".to_owned(),
    };
    let times: Vec<String> = plan.checkpoints.iter().map(|point| clock(point.time)).collect();
    let tests = match times.len() {
        0 => "none".to_owned(),
        count => format!("{count}, at {}", times.join(", ")),
    };
    let swing = summary.air_max - summary.air_min;
    let air = format!(
        "{} to {}, a swing of {}",
        figures::temperature(summary.air_min, plan.units),
        figures::temperature(summary.air_max, plan.units),
        figures::difference(swing, plan.units)
    );
    let shift = format!("{} to {}", clock(plan.shift.start), clock(plan.shift.end));
    let stops = plan
        .shift
        .breaks
        .iter()
        .map(|stop| format!("{} {}-{}", clean(&stop.name), clock(stop.start), clock(stop.end)));
    let shift = std::iter::once(shift).chain(stops).collect::<Vec<_>>().join("; ");
    let sheet = summary.sheet.map(|(low, high)| {
        format!(
            "{} to {}, by the sun, the sky and the wind",
            figures::temperature(low, plan.units),
            figures::temperature(high, plan.units)
        )
    });
    let roof = summary.dry.map(|dry| words::dry(&dry, plan.time_zone));
    let likely = summary.tests.as_ref().map(words::test_count);
    let seam = plan.footage.as_ref();
    let seam = seam.map(|seam| words::footage(seam, plan.units, plan.time_zone));
    [
        ("Shift", Some(shift)),
        ("Weldable", Some(weldable)),
        ("Roof", roof),
        ("Test welds", Some(tests)),
        ("", likely),
        ("Air", Some(air)),
        ("Sheet", sheet),
        ("Seam", seam),
    ]
    .iter()
    .filter_map(|(name, value)| Some((name, value.as_ref()?)))
    .flat_map(|(name, value)| wrap(value, &format!("  {name:<12}"), &" ".repeat(14)))
    .collect()
}

fn tests(plan: &DayPlan, paint: Paint) -> Vec<String> {
    if plan.checkpoints.is_empty() {
        return bullet(match plan.summary.first_weldable {
            None => "No test weld: there is no minute of this shift in which to weld.",
            Some(_) => "No test weld is planned, and no production weld goes without one.",
        });
    }
    let before = std::iter::once(None).chain(plan.checkpoints.iter().map(Some));
    let points = plan.checkpoints.iter().zip(before);
    points.flat_map(|(point, before)| checkpoint(plan, point, before, paint)).collect()
}

/// One test; why its heats are what they are is left out where it is as for the one before.
fn checkpoint(
    plan: &DayPlan,
    point: &Checkpoint,
    before: Option<&Checkpoint>,
    paint: Paint,
) -> Vec<String> {
    let time = figures::clock(point.time, plan.time_zone);
    let air = figures::temperature(point.air, plan.units);
    let why = clean(&words::because(point, plan));
    let sheet = point.sheet.map_or_else(String::new, |sheet| {
        format!(", sheet {}", figures::temperature(sheet.nominal, plan.units))
    });
    let sure = point.likelihood.as_ref().map_or_else(String::new, |likelihood| {
        format!(" ({})", words::likelihood(likelihood, plan.time_zone))
    });
    let head = format!("{why}; air {air}{sheet}{sure}");
    let mut lines = wrap(&head, &format!("  {time}  "), &" ".repeat(9));
    if let Some(first) = lines.first_mut() {
        *first = first.replacen(&time, &paint.strong(&time), 1);
    }
    let because = |setting: &Setting| {
        let kind = words::trial_kind(&setting.trial.kind).replace('-', " ");
        format!("({kind}: {})", words::trial_because(setting, plan.units))
    };
    for (number, setting) in point.settings.iter().enumerate() {
        let name = clean(&setting.welder);
        let trial = words::trial(setting, plan.units);
        lines.extend(wrap(&format!("{name}: {trial}"), &" ".repeat(9), &" ".repeat(11)));
        for hint in words::trial_hints(setting, plan.units) {
            lines.extend(wrap(&hint, &" ".repeat(11), &" ".repeat(13)));
        }
        if let Some(estimate) = &setting.learned {
            let learned = record_words::learned(estimate, plan.units);
            lines.extend(wrap(&learned, &" ".repeat(11), &" ".repeat(13)));
        }
        let told = before.and_then(|before| before.settings.get(number));
        let because_told = told.map(because);
        let because = because(setting);
        if because_told.as_ref() != Some(&because) {
            lines.extend(wrap(&because, &" ".repeat(11), &" ".repeat(12)));
        }
        let passed_over = |setting| record_words::passed_over(setting, plan.time_zone, plan.units);
        let passed_over_told = told.and_then(passed_over);
        if let Some(passed_over) = passed_over(setting)
            && passed_over_told.as_ref() != Some(&passed_over)
        {
            lines.extend(wrap(&format!("({passed_over})"), &" ".repeat(11), &" ".repeat(12)));
        }
    }
    lines
}

fn spans(plan: &DayPlan, paint: Paint) -> Vec<String> {
    plan.spans.iter().flat_map(|span| span_lines(plan, span, paint)).collect()
}

fn span_lines(plan: &DayPlan, span: &Span, paint: Paint) -> Vec<String> {
    let clock = |at| figures::clock(at, plan.time_zone);
    let verdict = format!("{:<5}", span.verdict.name());
    let reasons: Vec<String> =
        span.reasons.iter().map(|reason| words::reason(reason, plan.units)).collect();
    let from_to = format!("  {}-{}  ", clock(span.start), clock(span.end));
    let text = format!("{verdict} {}", reasons.join("; "));
    let mut lines = wrap(text.trim_end(), &from_to, &" ".repeat(21));
    if let Some(first) = lines.first_mut() {
        *first =
            first.replacen(verdict.trim_end(), &paint.verdict(span.verdict, verdict.trim_end()), 1);
    }
    lines
}

pub(in crate::render) fn bullet(text: &str) -> Vec<String> {
    wrap(&clean(text), "  - ", "    ")
}

/// Names come from a site file: what steers a terminal must not reach one.
pub(in crate::render) fn clean(text: &str) -> String {
    text.chars().map(|c| if steers_a_terminal(c) { ' ' } else { c }).collect()
}

pub(in crate::render) fn wrap(text: &str, first: &str, rest: &str) -> Vec<String> {
    let options = Options::new(COLUMNS)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_separator(WordSeparator::AsciiSpace);
    textwrap::wrap(text, options).into_iter().map(std::borrow::Cow::into_owned).collect()
}
