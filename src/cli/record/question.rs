//! The words of each question: what is asked, what is offered, what `?` says.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::quantity::Typist;
use super::strip_syntax::write_strips;
use crate::plan::Checkpoint;
use crate::render::figures;
use crate::render::trial::clean;
use crate::site::Welder;
use crate::testweld::HeatTrial;
use crate::units::{Temperature, TravelSpeed, UnitSystem};
use crate::words::{Language, tell};

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

impl Question {
    const fn needed(prompt: String, offered: Option<String>, help: String) -> Self {
        Self { prompt, offered, optional: false, help }
    }

    fn optional(prompt: String, offered: Option<String>, help: String) -> Self {
        Self { optional: true, ..Self::needed(prompt, offered, help) }
    }
}

pub(super) fn checkpoint(
    language: Language,
    points: &[Checkpoint],
    offered: Option<&Checkpoint>,
    zone: Tz,
) -> Question {
    let listed = points.iter().enumerate().map(|(place, point)| {
        format!("{} {} {}", place + 1, figures::clock(point.time, zone), clean(&point.id))
    });
    let listed = listed.collect::<Vec<_>>().join(", ");
    let offered = offered.map(|point| figures::clock(point.time, zone));
    let which = tell!(language, "help-checkpoint", listed = listed.as_str());
    let help = format!("{which}\n{}", tell!(language, "help-checkpoint-how"));
    Question::needed(tell!(language, "ask-checkpoint", listed), offered, help)
}

pub(super) fn welder(language: Language, welders: &[Welder], offered: Option<String>) -> Question {
    let listed = welders.iter().enumerate();
    let listed = listed.map(|(place, welder)| format!("{} {}", place + 1, welder.name));
    let listed = listed.collect::<Vec<_>>().join(", ");
    let help = tell!(language, "help-welder");
    Question::needed(tell!(language, "ask-welder", listed), offered, help)
}

pub(super) fn when(language: Language, offered: DateTime<Utc>, zone: Tz) -> Question {
    let offered = offered.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string();
    let help = tell!(language, "help-when");
    Question::needed(tell!(language, "ask-when"), Some(offered), help)
}

pub(super) fn who(language: Language, offered: Option<String>) -> Question {
    Question::needed(tell!(language, "ask-who"), offered, tell!(language, "help-who"))
}

/// What was read is offered again; else the forecast, marked as such.
pub(super) fn air(
    read: Option<Temperature>,
    forecast: Option<Temperature>,
    typist: Typist,
) -> Question {
    let prompt = match (read, forecast) {
        (None, Some(_)) => tell!(typist.language, "ask-air-forecast"),
        _ => tell!(typist.language, "ask-air"),
    };
    let offered = read.or(forecast).map(|air| figures::temperature(air, typist.units));
    Question::needed(prompt, offered, tell!(typist.language, "help-air"))
}

pub(super) fn sheet(offered: Option<Temperature>, typist: Typist) -> Question {
    let offered = offered.map(|sheet| figures::temperature(sheet, typist.units));
    let language = typist.language;
    Question::optional(tell!(language, "ask-sheet"), offered, tell!(language, "help-sheet"))
}

pub(super) fn lot(language: Language, offered: Option<String>) -> Question {
    Question::optional(tell!(language, "ask-lot"), offered, tell!(language, "help-lot"))
}

pub(super) fn roll(language: Language, offered: Option<String>) -> Question {
    Question::optional(tell!(language, "ask-roll"), offered, tell!(language, "help-roll"))
}

pub(super) fn weights(language: Language, offered: Option<String>) -> Question {
    Question::optional(tell!(language, "ask-weights"), offered, tell!(language, "help-weights"))
}

pub(super) fn air_flow(language: Language, offered: Option<String>) -> Question {
    Question::optional(tell!(language, "ask-air-flow"), offered, tell!(language, "help-air-flow"))
}

pub(super) fn note(language: Language, offered: Option<String>) -> Question {
    Question::optional(tell!(language, "ask-note"), offered, tell!(language, "help-note"))
}

pub(super) fn speed(offered: Option<TravelSpeed>, typist: Typist) -> Question {
    let (language, units) = (typist.language, typist.units);
    let offered = offered.map(|speed| figures::travel_speed(speed, units));
    let prompt = tell!(language, "ask-speed", unit = units.travel_speed());
    Question::needed(prompt, offered, tell!(language, "help-speed"))
}

pub(super) fn heats(answered: &[HeatTrial], planned: &[Temperature], typist: Typist) -> Question {
    let (language, units) = (typist.language, typist.units);
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
    let prompt = tell!(language, "ask-heats", unit = units.temperature());
    Question::needed(prompt, offered, tell!(language, "help-heats"))
}

pub(super) fn strips(heat: Option<&HeatTrial>, answered: bool, typist: Typist) -> Question {
    let (language, units) = (typist.language, typist.units);
    let shown = heat.map_or_else(String::new, |heat| {
        let figure = figures::round_to(heat.heat.in_units(units), 10.0);
        format!("{figure} {}", units.temperature())
    });
    let offered = heat.filter(|_| answered).map(|heat| write_strips(&heat.strips, units));
    let (unit, example) = match units {
        UnitSystem::Us => ("in", "1.5 film-tear x2, 2 film-tear+browning, 0.3 cold along"),
        UnitSystem::Metric => ("mm", "38 film-tear x2, 50 film-tear+browning, 8 cold along"),
    };
    let wide = tell!(language, "help-strips", unit);
    let help = format!("{wide}\n{example}\n{}", tell!(language, "help-strips-how"));
    Question::needed(tell!(language, "ask-strips", heat = shown), offered, help)
}

pub(super) fn ran(offered: Option<(Temperature, Option<TravelSpeed>)>, typist: Typist) -> Question {
    let (language, units) = (typist.language, typist.units);
    let offered = offered.map(|(heat, speed)| {
        let heat = figures::round_to(heat.in_units(units), 10.0);
        let speed = speed.map(|speed| format!(" at {}", figures::travel_speed(speed, units)));
        format!("{heat}{}", speed.unwrap_or_default())
    });
    Question::optional(tell!(language, "ask-ran"), offered, tell!(language, "help-ran"))
}

pub(super) fn confirm(language: Language) -> Question {
    let offered = tell!(language, "answer-yes");
    let help = tell!(language, "help-confirm");
    Question::needed(tell!(language, "ask-confirm"), Some(offered), help)
}

/// Yes or no in the language, or in English, which stands in every manual.
pub(super) fn is_yes(text: &str, language: Language) -> Option<bool> {
    let text = text.to_lowercase();
    let is_one_of = |words: String| words.split(' ').any(|word| word == text);
    let yes = ["y", "yes"].contains(&text.as_str()) || is_one_of(tell!(language, "answers-yes"));
    let no = ["n", "no"].contains(&text.as_str()) || is_one_of(tell!(language, "answers-no"));
    (yes || no).then_some(yes)
}

/// A number from 1, or whatever `is_meant` knows by its name.
pub(super) fn choice(
    text: &str,
    most: usize,
    language: Language,
    is_meant: impl Fn(usize) -> bool,
) -> Result<usize, String> {
    // A name that is a number is a name.
    let named = (0..most).find(|place| is_meant(*place));
    let numbered = || text.parse::<usize>().ok().filter(|number| (1..=most).contains(number));
    named
        .or_else(|| numbered().map(|number| number - 1))
        .ok_or_else(|| tell!(language, "record-one-of-list", most))
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
