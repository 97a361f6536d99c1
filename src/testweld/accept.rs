//! The door of the book: refuses what cannot be true or understood, whatever the machine.
//!
//! What did happen but proves nothing is kept, with a [`Doubt`]. Only the door refuses: everything
//! that depends on the site file is a doubt, so that a record once taken in can always be read
//! again, whatever has become of the site file since.

use chrono::{DateTime, TimeDelta, Utc};

use super::doubt::{Doubt, doubts};
use super::trial::{HeatTrial, Trial};
use crate::site::{Kind, Welder};
use crate::units::{Temperature, TravelSpeed};

/// Clocks on a roof differ: a trial dated this much ahead of ours is still taken.
const CLOCKS_DIFFER: TimeDelta = TimeDelta::minutes(5);
/// More heats than this is not a trial.
pub const MOST_HEATS: usize = 100;
/// More strips at one heat than this is not a trial.
pub const MOST_STRIPS: usize = 100;
/// Longest text of one field, in characters.
pub const LONGEST_TEXT: usize = 2000;

/// Why a record is not taken into the book; nothing of it is kept.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// NaN or infinite.
    #[error("{field} is not a number: write it in figures")]
    NotANumber {
        /// Which.
        field: String,
    },
    /// No roof and no machine has such a value.
    #[error("{field} is {found}, expected {expected}: check the figure and its unit")]
    OutOfRange {
        /// Which.
        field: String,
        /// In both systems of units.
        found: String,
        /// In both systems of units.
        expected: &'static str,
    },
    /// Dated ahead of now.
    #[error("the trial is dated {when}, which is after now ({now}): check the date and the clock")]
    InTheFuture {
        /// As written.
        when: DateTime<Utc>,
        /// Our clock.
        now: DateTime<Utc>,
    },
    /// Nobody, or no machine, is named.
    #[error("{field} is empty: write a name")]
    Nameless {
        /// Which.
        field: &'static str,
    },
    /// Nothing was tried.
    #[error("the trial has no heat: write at least one heat with its strips")]
    NoHeats,
    /// More than a crew could have made.
    #[error("{field} has {found} entries, expected at most {most}: split the record")]
    TooMany {
        /// Which.
        field: String,
        /// How many.
        found: usize,
        /// How many are taken.
        most: usize,
    },
    /// More than a note.
    #[error("{field} has {found} characters, expected at most {most}: shorten it")]
    TooLong {
        /// Which.
        field: &'static str,
        /// How many.
        found: usize,
        /// How many are taken.
        most: usize,
    },
    /// A hand welder has no travel speed.
    #[error("a speed is given for a hand welder, which has none: leave the speed out")]
    HandWelderSpeed,
}

/// Whether `trial` is taken in: its doubts, none for a sound record, or the reason it is refused.
///
/// # Errors
/// See [`Refusal`]: numbers that are none, values that no roof has, a date after `now`, no name, no
/// heat, a hand welder with a speed, sizes beyond [`MOST_HEATS`], [`MOST_STRIPS`], [`LONGEST_TEXT`].
pub fn accept(
    trial: &Trial,
    welders: &[Welder],
    now: DateTime<Utc>,
) -> Result<Vec<Doubt>, Refusal> {
    check_texts(trial)?;
    if trial.when > now + CLOCKS_DIFFER {
        return Err(Refusal::InTheFuture { when: trial.when, now });
    }
    check_conditions(trial)?;
    if trial.heats.is_empty() {
        return Err(Refusal::NoHeats);
    }
    at_most("the trial", trial.heats.len(), MOST_HEATS)?;
    for (index, heat) in trial.heats.iter().enumerate() {
        check_heat(heat, index + 1, trial.welder_kind)?;
    }
    Ok(doubts(trial, welders.iter().find(|welder| welder.name == trial.welder)))
}

fn check_texts(trial: &Trial) -> Result<(), Refusal> {
    for (field, name) in [("`who`", &trial.who), ("the welder", &trial.welder)] {
        if name.trim().is_empty() {
            return Err(Refusal::Nameless { field });
        }
        no_longer(field, name)?;
    }
    let of_heats = trial.heats.iter().flat_map(|heat| {
        [("a heat's weights", &heat.weights), ("a heat's air flow", &heat.air_flow)]
    });
    [
        ("the lot", &trial.lot),
        ("the roll", &trial.roll),
        ("the weights", &trial.weights),
        ("the air flow", &trial.air_flow),
        ("the note", &trial.note),
    ]
    .into_iter()
    .chain(of_heats)
    .filter_map(|(field, text)| text.as_ref().map(|text| (field, text)))
    .try_for_each(|(field, text)| no_longer(field, text))
}

/// The bounds are wider than any roof: the hottest and coldest air ever recorded lie inside.
fn check_conditions(trial: &Trial) -> Result<(), Refusal> {
    temperature("ambient", trial.ambient, (-90.0, 60.0), "-130 to 140 °F (-90 to 60 °C)")?;
    if let Some(sheet) = trial.sheet {
        temperature("the sheet", sheet, (-90.0, 120.0), "-130 to 248 °F (-90 to 120 °C)")?;
    }
    let millimeters = trial.thickness.millimeters();
    let found = || format!("{:.0} mil ({millimeters:.2} mm)", millimeters / 0.0254);
    within("the thickness", millimeters, (0.1, 10.0), found, "4 to 390 mil (0.1 to 10 mm)")?;
    check_speed("the speed", trial.speed, trial.welder_kind)
}

fn check_heat(heat: &HeatTrial, number: usize, kind: Kind) -> Result<(), Refusal> {
    let place = format!("heat {number}");
    temperature(&place, heat.heat, (0.0, 1000.0), "32 to 1832 °F (0 to 1000 °C)")?;
    check_speed(&format!("the speed of {place}"), heat.speed, kind)?;
    at_most(&place, heat.strips.len(), MOST_STRIPS)?;
    for (index, strip) in heat.strips.iter().enumerate() {
        let field = format!("the bond width of {place}, strip {}", index + 1);
        let millimeters = strip.bond_width.millimeters();
        let found = || format!("{:.2} in ({millimeters:.0} mm)", millimeters / 25.4);
        within(&field, millimeters, (0.0, 150.0), found, "0 to 5.9 in (0 to 150 mm)")?;
    }
    Ok(())
}

fn check_speed(field: &str, speed: Option<TravelSpeed>, kind: Kind) -> Result<(), Refusal> {
    let Some(speed) = speed else { return Ok(()) };
    if kind == Kind::Hand {
        return Err(Refusal::HandWelderSpeed);
    }
    let (feet, meters) = (speed.feet_per_minute(), speed.meters_per_minute());
    let found = || format!("{feet:.1} ft/min ({meters:.1} m/min)");
    within(field, feet, (0.1, 100.0), found, "0.1 to 100 ft/min (0.03 to 30 m/min)")
}

fn temperature(
    field: &str,
    value: Temperature,
    bounds_c: (f64, f64),
    expected: &'static str,
) -> Result<(), Refusal> {
    let found = || format!("{:.0} °F ({:.0} °C)", value.fahrenheit(), value.celsius());
    within(field, value.celsius(), bounds_c, found, expected)
}

fn within(
    field: &str,
    value: f64,
    (least, most): (f64, f64),
    found: impl Fn() -> String,
    expected: &'static str,
) -> Result<(), Refusal> {
    if !value.is_finite() {
        return Err(Refusal::NotANumber { field: field.to_owned() });
    }
    if value < least || value > most {
        return Err(Refusal::OutOfRange { field: field.to_owned(), found: found(), expected });
    }
    Ok(())
}

fn at_most(field: &str, found: usize, most: usize) -> Result<(), Refusal> {
    if found > most {
        return Err(Refusal::TooMany { field: field.to_owned(), found, most });
    }
    Ok(())
}

fn no_longer(field: &'static str, text: &str) -> Result<(), Refusal> {
    let found = text.chars().count();
    if found > LONGEST_TEXT {
        return Err(Refusal::TooLong { field, found, most: LONGEST_TEXT });
    }
    Ok(())
}
