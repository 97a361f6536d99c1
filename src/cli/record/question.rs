//! The words of each question: what is asked, what is offered, what `?` says.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::strip_syntax::write_strips;
use crate::plan::Checkpoint;
use crate::render::figures;
use crate::render::trial::clean;
use crate::site::Welder;
use crate::testweld::HeatTrial;
use crate::units::{Temperature, TravelSpeed, UnitSystem};

/// One question as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Question {
    pub(super) prompt: String,
    /// What an empty answer stands for.
    pub(super) offered: Option<String>,
    /// Whether `-`, or an empty answer where nothing is offered, means none.
    pub(super) optional: bool,
    pub(super) help: String,
}

pub(super) const LOT_HELP: &str = "What the sheet maker printed on the wrapping. A new lot asks \
                                   for a new test weld.";
pub(super) const ROLL_HELP: &str = "The roll in use, if the crew numbers them.";
pub(super) const WEIGHTS_HELP: &str = "In your words: `all`, `two plates`. Set once and left: a \
                                       change between heats makes the trial prove nothing.";
pub(super) const AIR_FLOW_HELP: &str = "In your words: `full`, `80 %`. Set once and left: a change \
                                        between heats makes the trial prove nothing.";
pub(super) const NOTE_HELP: &str = "Whatever the office or tomorrow's crew should know.";

impl Question {
    fn needed(prompt: impl Into<String>, offered: Option<String>, help: impl Into<String>) -> Self {
        Self { prompt: prompt.into(), offered, optional: false, help: help.into() }
    }

    fn optional(
        prompt: impl Into<String>,
        offered: Option<String>,
        help: impl Into<String>,
    ) -> Self {
        Self { optional: true, ..Self::needed(prompt, offered, help) }
    }
}

pub(super) fn checkpoint(
    points: &[Checkpoint],
    offered: Option<&Checkpoint>,
    zone: Tz,
) -> Question {
    let listed = points.iter().enumerate().map(|(place, point)| {
        format!("{} {} {}", place + 1, figures::clock(point.time, zone), clean(&point.id))
    });
    let listed = listed.collect::<Vec<_>>().join(", ");
    let offered = offered.map(|point| figures::clock(point.time, zone));
    let help =
        format!("Which test weld of today's plan this is: {listed}.\nType its number or time.");
    Question::needed(format!("Checkpoint ({listed})"), offered, help)
}

pub(super) fn welder(welders: &[Welder], offered: Option<String>) -> Question {
    let listed = welders.iter().enumerate();
    let listed = listed.map(|(place, welder)| format!("{} {}", place + 1, welder.name));
    let listed = listed.collect::<Vec<_>>().join(", ");
    let help = "The machine that was tested, by its number or its name in the site file.";
    Question::needed(format!("Welder ({listed})"), offered, help)
}

pub(super) fn when(offered: DateTime<Utc>, zone: Tz) -> Question {
    let offered = offered.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string();
    let help = "When the strips were welded: `07:10` for today, or a date and a time of day, on \
                the site's clock.";
    Question::needed("When", Some(offered), help)
}

pub(super) fn who(offered: Option<String>) -> Question {
    Question::needed("Who made it", offered, "Whoever ran the welder and peeled the strips.")
}

/// What was read is offered again; else the forecast, marked as such.
pub(super) fn air(
    read: Option<Temperature>,
    forecast: Option<Temperature>,
    units: UnitSystem,
) -> Question {
    let prompt = match (read, forecast) {
        (None, Some(_)) => "Air in the shade, by your thermometer; in brackets the forecast",
        _ => "Air in the shade, by your thermometer",
    };
    let help = "Read it in the shade where the work is. A reading also teaches how far the \
                forecast is off at this site; the forecast taken over does not.";
    let offered = read.or(forecast).map(|air| figures::temperature(air, units));
    Question::needed(prompt, offered, help)
}

pub(super) fn sheet(offered: Option<Temperature>, units: UnitSystem) -> Question {
    let offered = offered.map(|sheet| figures::temperature(sheet, units));
    let help = "The sheet's own surface by infrared thermometer, where it lies and where the weld \
                goes. Leave it out if it was not read.";
    Question::optional("Sheet temperature", offered, help)
}

pub(super) fn words(prompt: &str, offered: Option<String>, help: &str) -> Question {
    Question::optional(prompt, offered, help)
}

pub(super) fn speed(offered: Option<TravelSpeed>, units: UnitSystem) -> Question {
    let help = "The one speed held at every heat, as on the machine. Vary heat and speed at once \
                and the result means nothing.";
    let offered = offered.map(|speed| figures::travel_speed(speed, units));
    Question::needed(format!("Speed held, {}", units.travel_speed()), offered, help)
}

pub(super) fn heats(
    answered: &[HeatTrial],
    planned: &[Temperature],
    units: UnitSystem,
) -> Question {
    let figure = |heat: Temperature| figures::round_to(heat.in_units(units), 10.0).to_string();
    let answered = answered.iter().map(|heat| match heat.speed {
        Some(speed) => {
            format!("{} at {}", figure(heat.heat), figures::travel_speed(speed, units))
        }
        None => figure(heat.heat),
    });
    let mut offered: Vec<String> = answered.collect();
    if offered.is_empty() {
        offered = planned.iter().map(|heat| figure(*heat)).collect();
    }
    let offered = (!offered.is_empty()).then(|| offered.join(", "));
    let help = "Every heat that was tried, as on the machine, separated by commas or blanks.";
    Question::needed(format!("Heats tried, {}", units.temperature()), offered, help)
}

pub(super) fn strips(heat: Option<&HeatTrial>, answered: bool, units: UnitSystem) -> Question {
    let shown = heat.map_or_else(String::new, |heat| {
        let figure = figures::round_to(heat.heat.in_units(units), 10.0);
        format!("{figure} {}", units.temperature())
    });
    let offered = heat.filter(|_| answered).map(|heat| write_strips(&heat.strips, units));
    let unit = match units {
        UnitSystem::Us => "in",
        UnitSystem::Metric => "mm",
    };
    let example = match units {
        UnitSystem::Us => "1.5 film-tear x2, 2 film-tear+browning, 0.3 cold along",
        UnitSystem::Metric => "38 film-tear x2, 50 film-tear+browning, 8 cold along",
    };
    let help = format!(
        "For each strip how wide the weld held ({unit}) and how it parted, separated by commas:\n\
         {example}\n\
         how: film-tear, cold, mixed; signs behind a `+`: browning, yellowing, char,\n\
         heavy-bleed-out, void, scrim-not-reached; `along` if it was peeled along the seam;\n\
         `x3` for three like it. The beginning of a word will do. `none` if no strip was cut."
    );
    Question::needed(format!("Strips at {shown}"), offered, help)
}

pub(super) fn ran(
    offered: Option<(Temperature, Option<TravelSpeed>)>,
    units: UnitSystem,
) -> Question {
    let offered = offered.map(|(heat, speed)| {
        let heat = figures::round_to(heat.in_units(units), 10.0);
        let speed = speed.map(|speed| format!(" at {}", figures::travel_speed(speed, units)));
        format!("{heat}{}", speed.unwrap_or_default())
    });
    let help = "What the machine was really set to after this trial, if it is known already: \
                `925 at 8`, or `925` for a hand welder.";
    Question::optional("Setting really run", offered, help)
}

pub(super) fn confirm() -> Question {
    let help =
        "`yes` writes the trial into the book, `no` stops and writes nothing, `b` goes back.";
    Question::needed("Write it down (yes or no)", Some("yes".to_owned()), help)
}

/// A number from 1, or whatever `is_meant` knows by its name.
pub(super) fn choice(
    text: &str,
    most: usize,
    is_meant: impl Fn(usize) -> bool,
) -> Result<usize, String> {
    // A name that is a number is a name.
    let named = (0..most).find(|place| is_meant(*place));
    let numbered = || text.parse::<usize>().ok().filter(|number| (1..=most).contains(number));
    named.or_else(|| numbered().map(|number| number - 1)).ok_or_else(|| {
        format!("expected one of the list, by its number from 1 to {most} or its name")
    })
}

/// Heats between commas; or, where they are bare numbers, between blanks.
pub(super) fn heat_list(text: &str) -> Vec<String> {
    let bare = |word: &str| word.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
    let pieces: Vec<&str> = if text.split_whitespace().all(bare) {
        text.split_whitespace().collect()
    } else {
        text.split(',').map(str::trim).filter(|piece| !piece.is_empty()).collect()
    };
    pieces.into_iter().map(str::to_owned).collect()
}
