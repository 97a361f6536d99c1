//! What each welder starts from at a test, what the crew's record adds, and how far the forecast is
//! off at this site.

use super::amounts;
use super::line::{Line, Section};
use super::see::See;
use crate::plan::{Explanation, KnownError, Setting};
use crate::render::{OFFICE, figures, record_words, words};
use crate::units::UnitSystem;

/// The sections about the test-weld book.
pub(super) fn sections(of: &Explanation) -> Vec<Section> {
    let settings = of.test_here.iter().flat_map(|test| &test.settings);
    let error = of.known_error.as_ref();
    vec![
        Section {
            title: "Test weld here",
            lines: settings.flat_map(|setting| setting_lines(of, setting)).collect(),
        },
        Section {
            title: "Forecast at this site",
            lines: error.map_or_else(Vec::new, |known| error_lines(known, of.units)),
        },
    ]
}

fn setting_lines(of: &Explanation, setting: &Setting) -> Vec<Line> {
    let units = of.units;
    let kind = words::trial_kind(OFFICE, &setting.trial.kind);
    let speed = setting
        .trial
        .speed_held
        .map_or_else(|| "by hand".to_owned(), |speed| amounts::travel_speed(speed, units));
    let heats = figures::heats(&setting.trial.heats, units);
    let why = words::trial_because(OFFICE, setting, units);
    let mut lines = vec![
        Line::new("Start from", speed, See::Carried)
            .note(format!("{}: heats {heats}; {kind}: {why}", setting.welder)),
    ];
    lines.extend(setting.passed_over.iter().map(|trial| {
        let when = trial.when.with_timezone(&of.time_zone).format("%b %-d %H:%M").to_string();
        let why = record_words::why_passed_over(OFFICE, trial, units);
        Line::new("Passed over", when, See::Carried).note(format!("{}: {why}", setting.welder))
    }));
    lines.extend(setting.learned.as_ref().map(|estimate| {
        let off = |value| amounts::difference(value, units);
        Line::new(
            "Middle, learned",
            amounts::temperature(estimate.expected.middle, units),
            See::Learned,
        )
        .note(format!(
            "{}: {}; off by {} on average against {} carried over",
            setting.welder,
            record_words::learned(OFFICE, estimate, units),
            off(estimate.errors.from_the_past),
            off(estimate.errors.carried_over)
        ))
    }));
    lines
}

fn error_lines(known: &KnownError, units: UnitSystem) -> Vec<Line> {
    let found = &known.site.found;
    let spread = found.spread.map_or_else(String::new, |spread| {
        format!("{} as found, {} by default", amounts::difference(spread, units), {
            amounts::difference(known.default_spread, units)
        })
    });
    let goes_by = if known.in_likelihoods { "yes" } else { "no, by the ensemble" };
    vec![
        Line::new("Readings", found.readings.to_string(), See::SiteForecast).note(format!(
            "on {} days, {} after the forecast; every day counts once",
            found.days,
            record_words::lead(OFFICE, found.lead)
        )),
        Line::new("Roof less forecast", amounts::change(known.site.bias, units), See::SiteForecast)
            .note(format!("{} as found", amounts::change(found.bias, units))),
        Line::new("Spread", amounts::difference(known.spread, units), See::SiteForecast)
            .note(format!("{spread}; likelihoods go by it: {goes_by}")),
    ]
}
