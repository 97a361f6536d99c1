//! The two scales: temperatures on the left, the site's clock below.

use chrono::{DateTime, TimeDelta, Timelike, Utc};

use super::frame::{Drawing, STRIP};
use super::numbers::{of_minutes, px};
use crate::plan::DayPlan;
use crate::render::figures;
use crate::render::html::markup::{Markup, element, element_of, empty};
use crate::units::{Temperature, UnitSystem};
use crate::words::short_date;

/// Steps of a scale that a reader counts without thinking.
const STEPS: [f64; 8] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
/// Most steps in a scale.
const MOST_STEPS: f64 = 8.0;

/// Minutes between two clock times of the scale.
const CLOCK_STEPS: [i64; 7] = [15, 30, 60, 120, 180, 240, 360];

/// Temperatures at even steps around everything that is drawn, in the site's unit.
pub(super) struct Ticks {
    step: f64,
    first: f64,
    last: f64,
}

impl Ticks {
    pub(super) const fn low(&self) -> f64 {
        self.first * self.step
    }

    pub(super) const fn high(&self) -> f64 {
        self.last * self.step
    }

    fn degrees(&self) -> impl Iterator<Item = f64> {
        let mut next = self.first;
        let (step, last) = (self.step, self.last);
        std::iter::from_fn(move || {
            let here = next;
            next += 1.0;
            (here <= last).then_some(here * step)
        })
    }
}

/// The scale for temperatures from `low` to `high`.
///
/// It never spans less than some ten degrees, so that a flat day looks flat.
pub(super) fn ticks(low: f64, high: f64, units: UnitSystem) -> Ticks {
    let least = match units {
        UnitSystem::Us => 10.0,
        UnitSystem::Metric => 5.0,
    };
    let widen = ((least - (high - low)) / 2.0).max(0.0);
    let (low, high) = (low - widen, high + widen);
    let fits = |step: &&f64| (high / **step).ceil() - (low / **step).floor() <= MOST_STEPS;
    let step = STEPS.iter().find(fits).copied().unwrap_or(500.0);
    Ticks { step, first: (low / step).floor(), last: (high / step).ceil() }
}

/// A line and a name for each step.
pub(super) fn temperature_axis(drawing: &Drawing<'_>) -> Markup {
    let steps = drawing.ticks.degrees().map(|degrees| {
        let y = px(drawing.y_of(degrees));
        let (left, right) = (px(drawing.left()), px(drawing.right()));
        let line =
            [("x1", left.as_str()), ("x2", &right), ("y1", &y), ("y2", &y), ("class", "grid")];
        let units = drawing.plan.units;
        let name = figures::temperature(Temperature::from_units(degrees, units), units);
        let at =
            [("x", &*px(drawing.left() - 6.0)), ("y", &y), ("dy", ".35em"), ("class", "degrees")];
        Markup::from([empty("line", &line), element_of("text", &at, &name)])
    });
    element("g", &[], steps.collect())
}

/// A stroke for each step of the clock and the time under it, with the date where a day begins.
pub(super) fn clock_axis(drawing: &Drawing<'_>) -> Markup {
    let zone = drawing.plan.time_zone;
    let below = drawing.strip_top() + STRIP;
    let letter = drawing.frame.letter;
    let steps = clock_times(drawing).into_iter().map(|at| {
        let x = px(drawing.x(at));
        let (from, to) = (px(below), px(below + 4.0));
        let stroke =
            [("x1", x.as_str()), ("x2", &x), ("y1", &from), ("y2", &to), ("class", "stroke")];
        let place = |line: f64| px(below + 4.0 + line * letter);
        let time = [("x", x.as_str()), ("y", &place(0.95)), ("class", "clock")];
        let time = element_of("text", &time, &figures::clock(at, zone));
        let local = at.with_timezone(&zone);
        let date = (local.hour() == 0 && local.minute() == 0).then(|| {
            let day = [("x", x.as_str()), ("y", &place(2.0)), ("class", "clock day")];
            element_of("text", &day, &short_date(drawing.plan.language, local.date_naive()))
        });
        std::iter::once(empty("line", &stroke)).chain([time]).chain(date).collect()
    });
    element("g", &[], steps.collect())
}

/// The times that are named: full hours, of a short shift also their parts, of a long one each second
/// or third, as the room allows.
fn clock_times(drawing: &Drawing<'_>) -> Vec<DateTime<Utc>> {
    let shift = &drawing.plan.shift;
    let minutes = (shift.end - shift.start).num_minutes().max(1);
    let per_minute = (drawing.right() - drawing.left()) / of_minutes(minutes);
    let room = drawing.frame.text_width(6);
    let finest = if minutes <= 120 { 15 } else { 60 };
    let fits = |step: &&i64| **step >= finest && of_minutes(**step) * per_minute >= room;
    let step = CLOCK_STEPS.iter().find(fits).copied().unwrap_or(720);
    let mut times: Vec<DateTime<Utc>> = Vec::new();
    for minute in 0..=minutes {
        let at = shift.start + TimeDelta::minutes(minute);
        // On the night of a clock change an hour may come twice: there is no room to name it twice.
        let free = times.last().is_none_or(|last| drawing.x(at) - drawing.x(*last) >= room);
        if minute_of_day(drawing.plan, at) % step == 0 && free {
            times.push(at);
        }
    }
    times
}

fn minute_of_day(plan: &DayPlan, at: DateTime<Utc>) -> i64 {
    let local = at.with_timezone(&plan.time_zone);
    i64::from(local.hour() * 60 + local.minute())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: the lowest line, the highest, and how far they are apart.
    const SCALES: [(f64, f64, UnitSystem, [f64; 3]); 6] = [
        (43.0, 72.0, UnitSystem::Us, [40.0, 75.0, 5.0]),
        (50.0, 50.0, UnitSystem::Us, [44.0, 56.0, 2.0]),
        (-11.2, -3.9, UnitSystem::Metric, [-12.0, -2.0, 2.0]),
        (-4.0, 4.0, UnitSystem::Metric, [-4.0, 4.0, 1.0]),
        (60.0, 171.0, UnitSystem::Us, [60.0, 180.0, 20.0]),
        (20.0, 20.0, UnitSystem::Metric, [17.0, 23.0, 1.0]),
    ];

    #[test]
    fn a_scale_holds_what_is_drawn_in_even_steps() {
        for (low, high, units, expected) in SCALES {
            let scale = ticks(low, high, units);
            assert_eq!([scale.low(), scale.high(), scale.step], expected, "{low} to {high}");
        }
    }
}
