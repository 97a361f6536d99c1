//! Rules, what has changed since the last test, and the start speed.

use super::amounts::{self, decimals};
use super::line::{Line, Section};
use super::see::See;
use super::words;
use crate::plan::{Explanation, SinceTest, SpeedSteps};
use crate::render::figures;
use crate::units::{TravelSpeed, UnitSystem};

/// The sections from the rules to the start speed.
pub(super) fn sections(of: &Explanation) -> Vec<Section> {
    let since = of.since.as_ref().map_or_else(Vec::new, |since| since_test(of, since));
    let speed = of.speed.as_ref().map_or_else(Vec::new, |steps| speed(of.units, steps));
    vec![
        Section { title: "Rules", lines: rules(of) },
        Section { title: "Since the last test", lines: since },
        Section { title: "Start speed", lines: speed },
    ]
}

fn rules(of: &Explanation) -> Vec<Line> {
    let lines = of.rules.iter().map(|check| {
        let value = check.value.map(|value| amounts::measure(value, of.units));
        Line::of(check.rule.name(), value, See::Weldable).note(words::rule(check, of.units))
    });
    lines.collect()
}

fn since_test(of: &Explanation, since: &SinceTest) -> Vec<Line> {
    let (units, clock) = (of.units, |at| figures::clock(at, of.time_zone));
    let due = |is_due: bool| if is_due { "due" } else { "no" };
    let shift = since.center_shift;
    let mut lines = vec![
        Line::new("Last test", clock(since.time), See::Testing).note(format!(
            "{}; air {} then",
            since.id,
            amounts::temperature(since.air, units)
        )),
        Line::new("Air since then", amounts::change(since.air_change, units), See::Testing).note(
            format!(
                "a test from {} (ambient_change): {}",
                amounts::difference(since.air_limit, units),
                due(since.air_due)
            ),
        ),
        Line::of(
            "Share of the face",
            since.share.map(|share| decimals(share.nominal.fraction(), 2)),
            See::Fusion,
        )
        .note(since.share.map_or_else(String::new, |share| {
            let (low, high) = (share.low.fraction(), share.high.fraction());
            format!("low {}, high {}; of the step to the air", decimals(low, 2), decimals(high, 2))
        })),
        Line::of(
            "Middle of window",
            shift.map(|shift| amounts::change(shift.nominal, units)),
            See::Fusion,
        )
        .note(shift.map_or_else(String::new, |shift| {
            format!(
                "of heat, {} to {}; a test from {} (sheet_shift_heat): {}",
                amounts::change(shift.low, units),
                amounts::change(shift.high, units),
                amounts::difference(since.center_limit, units),
                due(since.center_due)
            )
        })),
        Line::new("Time since then", figures::duration(since.elapsed), See::Testing).note(format!(
            "a test from {} h (max_hours_between): {}",
            since.max_hours_between,
            due(since.elapsed_due)
        )),
    ];
    lines.extend(stops(of, since));
    lines
}

/// The next break and the end of the shift, which a test may have to wait for or give way to.
fn stops(of: &Explanation, since: &SinceTest) -> Vec<Line> {
    let next = since.next_break.as_ref();
    let next_break = match next {
        Some(stop) => {
            let until = figures::duration(stop.start - of.time);
            let within = since.merge_within_minutes;
            let waits = if since.waits { "yes" } else { "no" };
            Line::new("Next break", figures::clock(stop.start, of.time_zone), See::Testing).note(
                format!(
                    "{}, in {until}; a change within {within} min before it waits \
                     (merge_within_minutes): {waits}",
                    stop.name
                ),
            )
        }
        None => Line::new("Next break", "none".to_owned(), See::Testing)
            .note("with a test after it in this shift"),
    };
    let late = if since.too_late { "yes, too late for a test" } else { "not yet" };
    let to_end =
        Line::new("To end of shift", figures::duration(since.to_end), See::Testing).note(format!(
            "no test in the last {} min (last_test_before_end_minutes): {late}",
            since.last_test_before_end_minutes
        ));
    vec![next_break, to_end]
}

fn speed(units: UnitSystem, steps: &SpeedSteps) -> Vec<Line> {
    let speed = |speed: TravelSpeed| amounts::travel_speed(speed, units);
    let tens = decimals(steps.rounded.fahrenheit(), 0);
    let by_rule = decimals(steps.by_rule.feet_per_minute(), 0);
    let mut lines = vec![
        Line::new(
            "Ambient",
            format!("{} °F", decimals(steps.ambient.fahrenheit(), 1)),
            See::Setting,
        ),
        Line::new("To the nearest ten", format!("{tens} °F"), See::Setting)
            .note("a tie goes to the slower"),
        Line::new("By the rule", format!("{by_rule} ft/min"), See::Setting)
            .note(format!("{tens} / 10 + 2")),
    ];
    lines.extend(steps.welders.iter().map(|welder| {
        let kept = if welder.speed.same_as(steps.by_rule) { "within" } else { "kept within" };
        Line::new("Start speed", speed(welder.speed), See::Setting).note(format!(
            "{}: {kept} its {} to {}",
            welder.name,
            speed(welder.slowest),
            speed(welder.fastest)
        ))
    }));
    lines
}
