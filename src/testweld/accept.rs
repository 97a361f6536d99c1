//! The door of the book: refuses what cannot be true or understood, whatever the machine.
//!
//! What did happen but proves nothing is kept, with a [`Doubt`]. Only the door refuses: everything
//! that depends on the site file is a doubt, so that a record once taken in can always be read
//! again, whatever has become of the site file since.

use chrono::{DateTime, TimeDelta, Utc};

use super::doubt::{Doubt, doubts};
use super::refusal::{Bounds, Field, Refusal};
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

const AIR: Bounds = Bounds { us: ("-130", "140 °F"), metric: ("-90", "60 °C") };
const SHEET: Bounds = Bounds { us: ("-130", "248 °F"), metric: ("-90", "120 °C") };
const HEAT: Bounds = Bounds { us: ("32", "1832 °F"), metric: ("0", "1000 °C") };
const THICKNESS: Bounds = Bounds { us: ("4", "390 mil"), metric: ("0.1", "10 mm") };
const WIDTH: Bounds = Bounds { us: ("0", "5.9 in"), metric: ("0", "150 mm") };
const SPEED: Bounds = Bounds { us: ("0.1", "100 ft/min"), metric: ("0.03", "30 m/min") };

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
    at_most(Field::Trial, trial.heats.len(), MOST_HEATS)?;
    for (index, heat) in trial.heats.iter().enumerate() {
        check_heat(heat, index + 1, trial.welder_kind)?;
    }
    Ok(doubts(trial, welders.iter().find(|welder| welder.name == trial.welder)))
}

fn check_texts(trial: &Trial) -> Result<(), Refusal> {
    for (field, name) in [(Field::Who, &trial.who), (Field::Welder, &trial.welder)] {
        if name.trim().is_empty() {
            return Err(Refusal::Nameless { field });
        }
        no_longer(field, name)?;
    }
    let of_heats = trial.heats.iter().flat_map(|heat| {
        [(Field::HeatWeights, &heat.weights), (Field::HeatAirFlow, &heat.air_flow)]
    });
    [
        (Field::Lot, &trial.lot),
        (Field::Roll, &trial.roll),
        (Field::Weights, &trial.weights),
        (Field::AirFlow, &trial.air_flow),
        (Field::Note, &trial.note),
    ]
    .into_iter()
    .chain(of_heats)
    .filter_map(|(field, text)| text.as_ref().map(|text| (field, text)))
    .try_for_each(|(field, text)| no_longer(field, text))
}

/// The bounds are wider than any roof: the hottest and coldest air ever recorded lie inside.
fn check_conditions(trial: &Trial) -> Result<(), Refusal> {
    temperature(Field::Ambient, trial.ambient, (-90.0, 60.0), AIR)?;
    if let Some(sheet) = trial.sheet {
        temperature(Field::Sheet, sheet, (-90.0, 120.0), SHEET)?;
    }
    let millimeters = trial.thickness.millimeters();
    let found = || format!("{:.0} mil ({millimeters:.2} mm)", millimeters / 0.0254);
    within(Field::Thickness, millimeters, (0.1, 10.0), found, THICKNESS)?;
    check_speed(Field::Speed, trial.speed, trial.welder_kind)
}

fn check_heat(heat: &HeatTrial, number: usize, kind: Kind) -> Result<(), Refusal> {
    let place = Field::Heat(number);
    temperature(place, heat.heat, (0.0, 1000.0), HEAT)?;
    check_speed(Field::HeatSpeed(number), heat.speed, kind)?;
    at_most(place, heat.strips.len(), MOST_STRIPS)?;
    for (index, strip) in heat.strips.iter().enumerate() {
        let field = Field::BondWidth { heat: number, strip: index + 1 };
        let millimeters = strip.bond_width.millimeters();
        let found = || format!("{:.2} in ({millimeters:.0} mm)", millimeters / 25.4);
        within(field, millimeters, (0.0, 150.0), found, WIDTH)?;
    }
    Ok(())
}

fn check_speed(field: Field, speed: Option<TravelSpeed>, kind: Kind) -> Result<(), Refusal> {
    let Some(speed) = speed else { return Ok(()) };
    if kind == Kind::Hand {
        return Err(Refusal::HandWelderSpeed);
    }
    let (feet, meters) = (speed.feet_per_minute(), speed.meters_per_minute());
    let found = || format!("{feet:.1} ft/min ({meters:.1} m/min)");
    within(field, feet, (0.1, 100.0), found, SPEED)
}

fn temperature(
    field: Field,
    value: Temperature,
    bounds_c: (f64, f64),
    expected: Bounds,
) -> Result<(), Refusal> {
    let found = || format!("{:.0} °F ({:.0} °C)", value.fahrenheit(), value.celsius());
    within(field, value.celsius(), bounds_c, found, expected)
}

fn within(
    field: Field,
    value: f64,
    (least, most): (f64, f64),
    found: impl Fn() -> String,
    expected: Bounds,
) -> Result<(), Refusal> {
    if !value.is_finite() {
        return Err(Refusal::NotANumber { field });
    }
    if value < least || value > most {
        return Err(Refusal::OutOfRange { field, found: found(), expected });
    }
    Ok(())
}

fn at_most(field: Field, found: usize, most: usize) -> Result<(), Refusal> {
    if found > most {
        return Err(Refusal::TooMany { field, found, most });
    }
    Ok(())
}

fn no_longer(field: Field, text: &str) -> Result<(), Refusal> {
    let found = text.chars().count();
    if found > LONGEST_TEXT {
        return Err(Refusal::TooLong { field, found, most: LONGEST_TEXT });
    }
    Ok(())
}
