//! Rules, what has changed since the last test, and the start speed in their JSON shape.

use super::from_explanation::Show;
use super::see::See;
use super::wire::{Comparison, NextBreak, RuleCheck, Rules, SinceTest, StartSpeed, WelderSpeed};
use super::wire_roof::Range;
use crate::plan::{self, Explanation, Measure};
use crate::render::json::{Figure, verdict};
use crate::render::{OFFICE, words};
use crate::units::TravelSpeed;

pub(super) fn rules(of: &Explanation, show: &Show) -> Rules {
    Rules {
        checks: of.rules.iter().map(|check| rule(check, show)).collect(),
        see: See::Weldable.place().to_owned(),
    }
}

fn rule(check: &plan::RuleCheck, show: &Show) -> RuleCheck {
    RuleCheck {
        rule: check.rule.name().to_owned(),
        key: check.rule.key().map(str::to_owned),
        verdict: verdict(check.rule.verdict()),
        value: check.value.and_then(|value| figure(value, show)),
        named: match check.value {
            Some(Measure::Named(named)) => Some(named),
            _ => None,
        },
        comparison: match check.rule.comparison() {
            plan::Comparison::AtLeast => Comparison::AtLeast,
            plan::Comparison::Above => Comparison::Above,
            plan::Comparison::Below => Comparison::Below,
        },
        limit: figure(check.limit, show),
        unit: unit(check.limit).to_owned(),
        reached: check.reason.is_some(),
        said_by: check.said_by.map(|graver| graver.name().to_owned()),
        fires: check.fires(),
        reason: check.reason.map(|reason| words::reason(OFFICE, &reason, show.units)),
    }
}

fn figure(measure: Measure, show: &Show) -> Option<Figure> {
    match measure {
        Measure::Temperature(value) => show.temperature(value),
        Measure::Difference(value) => show.difference(value),
        Measure::Wind(value) => show.wind(value),
        Measure::Depth(value) => show.depth(value),
        Measure::Percent(value) => Figure::rounded(value, 1),
        Measure::Degrees(value) => Figure::rounded(value, 2),
        Measure::Named(_) => None,
    }
}

/// The key of the unit in `units`.
const fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Temperature(_) | Measure::Difference(_) => "temperature",
        Measure::Wind(_) => "wind",
        Measure::Depth(_) => "rain",
        Measure::Percent(_) | Measure::Named(_) => "percent",
        Measure::Degrees(_) => "angle",
    }
}

pub(super) fn since(since: &plan::SinceTest, show: &Show) -> SinceTest {
    SinceTest {
        id: since.id.clone(),
        time: show.time(since.time),
        air: show.temperature(since.air),
        air_change: show.difference(since.air_change),
        air_limit: show.difference(since.air_limit),
        air_due: since.air_due,
        face_share: since.share.map(|share| {
            let shown = [share.low, share.nominal, share.high]
                .map(|share| Figure::rounded(share.fraction(), 4));
            let [low, nominal, high] = shown;
            Range { low, nominal, high }
        }),
        center_shift: since.center_shift.map(|shift| Range {
            low: show.difference(shift.low),
            nominal: show.difference(shift.nominal),
            high: show.difference(shift.high),
        }),
        center_limit: show.difference(since.center_limit),
        center_due: since.center_due,
        minutes: since.elapsed.num_minutes(),
        max_hours_between: Figure::rounded(since.max_hours_between, 3),
        elapsed_due: since.elapsed_due,
        next_break: since.next_break.as_ref().map(|stop| NextBreak {
            name: stop.name.clone(),
            start: show.time(stop.start),
            merge_within_minutes: since.merge_within_minutes,
            waits: since.waits,
        }),
        minutes_to_end: since.to_end.num_minutes(),
        last_test_before_end_minutes: since.last_test_before_end_minutes,
        too_late: since.too_late,
        see: See::Testing.place().to_owned(),
        see_center: See::Fusion.place().to_owned(),
    }
}

pub(super) fn start_speed(steps: &plan::SpeedSteps, show: &Show) -> StartSpeed {
    let speed = |speed: TravelSpeed| Figure::rounded(speed.in_units(show.units), 2);
    StartSpeed {
        ambient_fahrenheit: Figure::rounded(steps.ambient.fahrenheit(), 2),
        rounded_fahrenheit: Figure::rounded(steps.rounded.fahrenheit(), 0),
        by_rule_feet_per_minute: Figure::rounded(steps.by_rule.feet_per_minute(), 0),
        welders: steps
            .welders
            .iter()
            .map(|welder| WelderSpeed {
                welder: welder.name.clone(),
                slowest: speed(welder.slowest),
                fastest: speed(welder.fastest),
                speed: speed(welder.speed),
                clamped: !welder.speed.same_as(steps.by_rule),
            })
            .collect(),
        see: See::Setting.place().to_owned(),
    }
}
