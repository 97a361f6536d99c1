//! What was learned from a crew's own record, and whether it has earned to be used.

use chrono_tz::Tz;

use super::amounts;
use super::layout::{bullet, page, section, wrap};
use crate::quality::KeptTrial;
use crate::render::figures;
use crate::site::Site;
use crate::testweld::{
    Basis, Conditions, JudgedTrial, Learned, LeftOut, MeanErrors, Standing, observations,
};
use crate::units::{Temperature, TemperatureDifference, UnitSystem};

/// For each welder of the site on the site's sheet; `asked` are today's conditions, where a plan
/// or a reading tells them, by the welder's name.
pub fn learned_text(
    site: &Site,
    trials: &[KeptTrial],
    zone: Tz,
    asked: &dyn Fn(&str) -> Option<Conditions>,
) -> String {
    let judged: Vec<JudgedTrial> = trials.iter().map(|kept| kept.judged.clone()).collect();
    let units = site.units;
    let sheet = format!(
        "{} {}",
        site.sheet.polymer.name(),
        amounts::thickness(site.sheet.thickness, units)
    );
    let mut lines = wrap(INTRODUCTION, "", "");
    for welder in &site.welders {
        let (polymer, thickness) = (site.sheet.polymer, site.sheet.thickness);
        let record = observations(&judged, welder, polymer, thickness);
        let conditions = asked(&welder.name);
        let basis = conditions
            .as_ref()
            .map_or(Basis::Ambient, |conditions| Basis::for_record(&record, conditions));
        let learned = Learned::from_record(&record, basis);
        let body = welder_lines(&learned, conditions.as_ref(), zone, units);
        section(&mut lines, &format!("{} on {sheet}", super::clean(&welder.name)), body);
    }
    page(&lines)
}

const INTRODUCTION: &str = "What this crew's own trials say about the middle of the heat window, \
                            held against plain carry-over of the last center. Only closed windows \
                            count: both ends found. Beside the rules and never instead of them.";

fn welder_lines(
    learned: &Learned,
    asked: Option<&Conditions>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<String> {
    let mut lines = bullet(&standing(learned.standing(), units));
    if let Some(expectation) = asked.and_then(|conditions| learned.offer(conditions)) {
        let line = format!(
            "Expect the middle near {}, give or take {} (nine in ten). Test all the same.",
            ten(expectation.middle, units),
            amounts::degrees(expectation.band, units)
        );
        lines.extend(bullet(&line));
    }
    if learned.left_out().is_empty() {
        return lines;
    }
    lines.extend(bullet(&worth(learned, units)));
    lines.push(String::new());
    let unit = units.temperature();
    lines.push(format!(
        "  {:<16}{:>8}{:>12}{:>12}{:>12}",
        "", "found", "from the", "from the", "carried"
    ));
    lines.push(format!("  {:<16}{:>8}{:>12}{:>12}{:>12}", "", unit, "others", "past", "over"));
    lines.extend(learned.left_out().iter().map(|one| row(one, zone, units)));
    lines
}

/// How each trial would have been foreseen.
fn row(one: &LeftOut, zone: Tz, units: UnitSystem) -> String {
    let figure = |heat: Temperature| figures::whole(heat.in_units(units));
    format!(
        "  {:<16}{:>8}{:>12}{:>12}{:>12}",
        one.when.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string(),
        figure(one.found),
        figure(one.from_the_others),
        figure(one.from_the_past),
        figure(one.carried_over)
    )
}

fn standing(standing: Standing, units: UnitSystem) -> String {
    match standing {
        Standing::TooFewTrials { have, need } => format!(
            "{} with a closed window; no estimate before {need}. Until then the last center is \
             carried over.",
            amounts::counted(have, "trial")
        ),
        Standing::Earned(errors) => {
            format!("The estimate has earned to be offered: {}.", mean_errors(&errors, units))
        }
        Standing::CarryOverIsBetter(errors) => format!(
            "No estimate is offered: carrying the last center over has done better or nearly as \
             well on this record ({}).",
            mean_errors(&errors, units)
        ),
    }
}

fn mean_errors(errors: &MeanErrors, units: UnitSystem) -> String {
    let off = |value: TemperatureDifference| amounts::degrees(value, units);
    format!(
        "off by {} on average when foreseen from all other trials, {} from the trials before it \
         alone, {} by carry-over",
        off(errors.from_the_others),
        off(errors.from_the_past),
        off(errors.carried_over)
    )
}

/// Tenths of a meter in a foot. Source: NIST811, appendix B.8.
const TENTH_OF_A_METER: f64 = 3.048;

fn worth(learned: &Learned, units: UnitSystem) -> String {
    let what = match learned.basis() {
        Basis::Sheet => "sheet",
        Basis::Ambient => "air",
    };
    let per_foot = learned.heat_per_foot_per_minute();
    let (heat, speed) = match units {
        UnitSystem::Us => (per_foot, "ft/min"),
        UnitSystem::Metric => (per_foot / TENTH_OF_A_METER, "0.1 m/min"),
    };
    let per_degree = figures::round_to(learned.heat_per_degree(), 10.0);
    format!(
        "Learned so far: {per_degree} {unit} of heat for each {unit} that the {what} is warmer; \
         {} for each {speed} faster.",
        amounts::degrees(heat, units),
        unit = units.temperature()
    )
}

/// To the nearest ten: more would promise too much.
fn ten(heat: Temperature, units: UnitSystem) -> String {
    let ten = figures::round_to(heat.in_units(units), 0.1);
    format!("{} {}", figures::whole(ten), units.temperature())
}
