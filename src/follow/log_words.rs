//! The line about a decision, for the log: what, and why.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::change::{Change, Doubt, Waiting};
use crate::plan::TestMade;
use crate::site::Rules;
use crate::units::{Temperature, UnitSystem};

/// A change as it is published.
pub fn line(change: &Change, zone: Tz, rules: &Rules) -> String {
    let clock = |at: DateTime<Utc>| at.with_timezone(&zone).format("%H:%M").to_string();
    let span = |(start, end): (DateTime<Utc>, DateTime<Utc>)| {
        format!("{} to {}", clock(start), clock(end))
    };
    let tell = rules.tell_after_minutes;
    match change {
        Change::First { checkpoints, holds } => {
            format!("published: the day, {checkpoints} test welds, {holds} holds (first time)")
        }
        Change::Moved { id, from, to } => {
            let minutes = (*to - *from).num_minutes();
            let way = if minutes < 0 { "earlier" } else { "later" };
            let minutes = minutes.abs();
            format!(
                "published: {id} moved {} to {} ({minutes} min {way}, {tell} or more)",
                clock(*from),
                clock(*to)
            )
        }
        Change::New { id, at, cause } => {
            format!("published: {id} new at {} ({})", clock(*at), cause.name())
        }
        Change::Gone { id, at } => {
            format!("published: {id} at {} withdrawn (no longer asked for)", clock(*at))
        }
        Change::Setting { id, at, heats } => {
            let what = if *heats { "other heats" } else { "another speed" };
            format!("published: {id} at {} starts from {what}", clock(*at))
        }
        Change::HoldNew { id, start, end } => {
            format!("published: {id} new, {}", span((*start, *end)))
        }
        Change::HoldMoved { id, from, to } => {
            format!("published: {id} moved, {} now {} ({tell} min or more)", span(*from), span(*to))
        }
        Change::HoldGone { id, was } => {
            format!("published: {id}, {}, withdrawn (no longer expected)", span(*was))
        }
        Change::Untested { id, at, was } => format!(
            "published: {id} at {} rings again (its test weld of {} was withdrawn)",
            clock(*at),
            clock(*was)
        ),
        Change::TestedEarly { id, when } => {
            format!("silenced: {id} was tested at {}, ahead of its time", clock(*when))
        }
    }
}

/// A difference that is not told.
pub fn waiting_line(waiting: &Waiting, rules: &Rules) -> String {
    match waiting {
        Waiting::Wobble { id, minutes } => {
            format!("kept: {id} is off by {minutes} min, less than {}", rules.tell_after_minutes)
        }
        Waiting::Unconfirmed { id, what, seen, needed } => {
            let says = match what {
                Doubt::Gone => "falls away",
                Doubt::Speed => "starts from another speed",
                Doubt::HoldGone => "is no longer expected",
            };
            format!("kept: {id} {says} in {seen} of {needed} forecasts in a row")
        }
    }
}

/// A reading that the forecast cannot be held against.
pub fn reading_off_line(
    (test, forecast): (TestMade, Temperature),
    zone: Tz,
    units: UnitSystem,
) -> String {
    let shown = |air: Temperature| format!("{:.1} {}", air.in_units(units), units.temperature());
    format!(
        "note: the crew read {} at {}, the forecast has {}: too far apart to count the next change \
         from the reading; it is counted from the forecast",
        shown(test.air),
        test.when.with_timezone(&zone).format("%H:%M"),
        shown(forecast)
    )
}
