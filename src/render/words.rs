//! Every sentence that the crew reads, from the plan's values.

use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::figures;
use super::record_words::known_error;
pub use super::start_words::{trial, trial_because, trial_hints, trial_kind};
use crate::plan::{
    Cause, Checkpoint, DayPlan, Dry, Footage, Likelihood, Note, PlanWeather, Reason, StandBy,
    TestCount,
};
use crate::units::{Length, UnitSystem};

/// Why a checkpoint is there: `air up 10.1 °F since the 07:00 test`.
pub fn because(checkpoint: &Checkpoint, plan: &DayPlan) -> String {
    let since = |last: Option<DateTime<Utc>>| {
        last.map_or_else(String::new, |at| {
            format!(" since the {} test", figures::clock(at, plan.time_zone))
        })
    };
    match &checkpoint.cause {
        Cause::Start => "start of shift".to_owned(),
        Cause::AfterBreak { name, minutes } => format!("after {name} ({minutes} min)"),
        Cause::AmbientChange => match checkpoint.change_since_last {
            Some(change) => {
                let way = if change.kelvin() < 0.0 { "down" } else { "up" };
                let by = figures::difference(change, plan.units);
                format!("air {way} {by}{}", since(checkpoint.last_time))
            }
            None => "air has changed".to_owned(),
        },
        Cause::SheetChange => match &checkpoint.center_shift {
            Some(shift) => {
                let way = if shift.nominal.kelvin() < 0.0 { "warmer" } else { "cooler" };
                let by = figures::difference_whole(shift.nominal, plan.units);
                format!(
                    "sheet {way}{}: the middle moves by about {by} of heat",
                    since(checkpoint.last_time)
                )
            }
            None => "sheet has changed".to_owned(),
        },
        Cause::Elapsed { hours } => format!("{hours} h{}", since(checkpoint.last_time)),
        Cause::AfterHold { opens_the_day, held_by } => {
            let held = reasons_short(held_by);
            if *opens_the_day {
                format!("first weldable minute, after {held}")
            } else {
                format!("welding resumes after {held}")
            }
        }
    }
}

/// What asks for a test that the plan leaves out: `the end of lunch`.
fn cause_noun(cause: &Cause) -> String {
    match cause {
        Cause::Start => "the start of work".to_owned(),
        Cause::AfterBreak { name, .. } => format!("the end of {name}"),
        Cause::AmbientChange => "a change of the air".to_owned(),
        Cause::SheetChange => "a change of the sheet".to_owned(),
        Cause::Elapsed { hours } => format!("{hours} h without a test"),
        Cause::AfterHold { held_by, .. } => format!("the end of {}", reasons_short(held_by)),
    }
}

/// Reasons in a word each: `rain, gusts`.
pub fn reasons_short(reasons: &[Reason]) -> String {
    let words: Vec<&str> = reasons
        .iter()
        .map(|reason| match reason {
            Reason::Rain { .. } => "rain",
            Reason::Snow { .. } => "snow",
            Reason::Thunder => "thunder",
            Reason::WetSheet { frost: false, .. } => "wet sheet",
            Reason::WetSheet { frost: true, .. } => "frost on the sheet",
            Reason::WindStop { .. } => "storm wind",
            Reason::DewNear { .. } => "dew near",
            Reason::Cold { .. } => "cold air",
            Reason::Gust { .. } => "gusts",
            Reason::WindShield { .. } => "wind",
            Reason::Heat { .. } => "heat",
            Reason::Dark => "dark",
        })
        .collect();
    words.join(", ")
}

/// A reason in full: `rain, up to 0.15 in within an hour`.
pub fn reason(reason: &Reason, units: UnitSystem) -> String {
    let fallen = |what: &str, amount, over_hours: u32| match over_hours {
        1 => format!("{what}, up to {amount} per hour"),
        hours => format!("{what}, {amount} somewhere within {hours} hours"),
    };
    match *reason {
        Reason::Rain { total, over_hours } => {
            fallen("rain", figures::rain(total, units), over_hours)
        }
        Reason::Snow { total, over_hours } => {
            fallen("snow", figures::rain(total, units), over_hours)
        }
        Reason::Thunder => "thunder: off the roof".to_owned(),
        Reason::WetSheet { depth, frost } => {
            let water = if frost { "frost or ice" } else { "water or dew" };
            format!("{water} on the sheet, {}", figures::film(depth, units))
        }
        Reason::WindStop { from } => {
            format!("wind or gusts of {} or more", figures::wind(from, units))
        }
        Reason::DewNear { within } => {
            format!("sheet within {} of the dew point", figures::difference(within, units))
        }
        Reason::Cold { below } => format!("air below {}", figures::temperature(below, units)),
        Reason::Gust { from } => format!("gusts of {} or more", figures::wind(from, units)),
        Reason::WindShield { from } => {
            format!("wind of {} or more at the lap", figures::wind(from, units))
        }
        Reason::Heat { from } => {
            format!("heat index of {} or more", figures::temperature(from, units))
        }
        Reason::Dark => "dark: before dawn or after dusk".to_owned(),
    }
}

/// What the plan leaves out or bends, and why.
pub fn note(note: &Note, plan: &DayPlan) -> String {
    let clock = |at: DateTime<Utc>| figures::clock(at, plan.time_zone);
    match note {
        Note::NotAWorkday => {
            format!(
                "{} is not a workday of this crew; planned because it was asked for.",
                plan.date.format("%A")
            )
        }
        Note::ChangeWaits { due, of_sheet, change, break_name, test_at } => format!(
            "{}: the {} will have moved {} since the last test. That is so close before \
             {break_name} that the test waits for the one after it, at {}.",
            clock(*due),
            if *of_sheet { "sheet" } else { "air" },
            figures::difference(*change, plan.units),
            clock(*test_at)
        ),
        Note::TooLate { due, cause } => format!(
            "{}: {} asks for a test, but so close to the end of the shift none is planned. \
             Test anyway, or weld no more from then on.",
            clock(*due),
            cause_noun(cause)
        ),
        Note::HeldToTheEnd { from } => {
            format!("From {} the weather holds the welding to the end of the shift.", clock(*from))
        }
        Note::SpeedClamped { welder } => format!(
            "{welder}: the rule asks for a speed that this welder does not run at; the nearest \
             that it does stands in the plan."
        ),
        Note::RainUnknown => {
            "Rain is not in this forecast for the whole of the shift: look at the sky and a radar."
                .to_owned()
        }
        Note::FilmUnknown => {
            "Whether the sheet is dry cannot be told from this forecast (that takes rain, cloud or \
             radiation, dew point and wind): wipe the lap and look."
                .to_owned()
        }
        Note::ShortRunUp { from } => format!(
            "Dew and rain before {} are not in this forecast: the sheet is taken as dry there. \
             Wipe the lap and look.",
            clock(*from)
        ),
        Note::ForecastOff(known) => known_error(known, plan.units),
        Note::ClockChange { gained_minutes } => {
            let way = if *gained_minutes > 0 { "longer" } else { "shorter" };
            let minutes = gained_minutes.abs();
            format!(
                "The clock changes during this shift: it is {minutes} min {way} than the wall \
                 clock says."
            )
        }
    }
}

/// A weather-driven test: `82 % likely, between 08:20 and 09:05`.
pub fn likelihood(likelihood: &Likelihood, zone: Tz) -> String {
    // No forecast makes anything certain.
    let chance = if likelihood.percent >= 99.5 {
        "almost certain".to_owned()
    } else {
        format!("{} % likely", figures::whole(likelihood.percent))
    };
    format!(
        "{chance}, between {} and {}",
        figures::clock(likelihood.earliest, zone),
        figures::clock(likelihood.latest, zone)
    )
}

/// `65 % that one more test is needed about 13:40 (13:05 to 14:30)`.
pub fn stand_by(test: &StandBy, zone: Tz) -> String {
    format!(
        "{} % that one more test is needed about {} ({} to {})",
        figures::whole(test.likelihood.percent),
        figures::clock(test.about, zone),
        figures::clock(test.likelihood.earliest, zone),
        figures::clock(test.likelihood.latest, zone)
    )
}

/// How many tests the day may take: `most likely 4; between 4 and 5 on eight days of ten`.
pub fn test_count(tests: &TestCount) -> String {
    if tests.p10 == tests.p90 {
        return format!("{} on eight days of ten like this", tests.p50);
    }
    format!(
        "most likely {}; {} to {} on eight days of ten like this",
        tests.p50, tests.p10, tests.p90
    )
}

/// `dry from 08:40 (08:10 to 09:25)`.
pub fn dry(dry: &Dry, zone: Tz) -> String {
    let latest =
        dry.latest.map_or_else(|| "later than the shift".to_owned(), |at| figures::clock(at, zone));
    format!(
        "dry from {} (between {} and {latest})",
        figures::clock(dry.from, zone),
        figures::clock(dry.earliest, zone)
    )
}

/// Seam of the day: `1,240 ft after tests and breaks; target of 1,000 ft reached at 13:20`.
pub fn footage(footage: &Footage, units: UnitSystem, zone: Tz) -> String {
    let seam = figures::length(footage.total, units);
    let Some(target) = footage.target else {
        return format!("up to {seam} after tests and breaks");
    };
    let goal = figures::length(target.length, units);
    match target.reached_at {
        Some(at) => {
            format!("up to {seam}; the target of {goal} is reached at {}", figures::clock(at, zone))
        }
        None => {
            let short = Length::from_meters(target.length.meters() - footage.total.meters());
            format!("up to {seam}; {} short of the target of {goal}", figures::length(short, units))
        }
    }
}

/// How the trial is cut and peeled, in the site's units. *Common practice.*
pub const fn how_to_test(units: UnitSystem) -> [&'static str; 5] {
    let [weld, mut cut, mut peel, window, none] = HOW_TO_TEST;
    if matches!(units, UnitSystem::Metric) {
        cut = "Let each weld cool. Cut at least three strips at each heat, 25 mm wide, across the \
               seam.";
        peel = "Peel slowly and steadily, never along the seam. Good: the sheet tears to the scrim \
                over the weld, 25 to 40 mm wide. Cold: the faces part. Burnt: brown, yellow, char \
                or heavy bleed-out, however wide it peels.";
    }
    [weld, cut, peel, window, none]
}

/// [`how_to_test`] in U.S. units.
const HOW_TO_TEST: [&str; 5] = [
    "Weld strips of today's sheet, off the roll in use, where the work is. Set weights and air \
     first and leave them; hold the speed; change only the heat.",
    "Let each weld cool. Cut at least three strips at each heat, 1 in wide, across the seam.",
    "Peel slowly and steadily, never along the seam. Good: the sheet tears to the scrim over the \
     weld, 1 to 1½ in wide. Cold: the faces part. Burnt: brown, yellow, char or heavy bleed-out, \
     however wide it peels.",
    "Lowest good heat is the bottom, highest good heat the top: set the machine in the middle.",
    "No heat holds? Do not weld. Change speed only, and test again.",
];

/// The usual cautions. The crew's own competent person and local rules decide.
pub const CAUTIONS: [&str; 4] = [
    "Nozzle air burns and starts fires: fire watch and extinguisher at hand. Ventilate the fumes.",
    "Generator: carbon monoxide, no hot fueling, grounded, GFCI where required.",
    "Roof edge: fall protection. Thunder: clear the roof. Heat, cold and wind: the crew's own \
     competent person decides.",
    "This plan says where to start; the peel says whether it holds. Local codes, the project \
     specification and the membrane maker's instructions come first.",
];

/// Source and time of the weather: `Weather: nws, issued Apr 8 16:00, read Apr 8 17:30`.
pub fn weather_line(weather: &PlanWeather, zone: Tz) -> String {
    let day_and_time =
        |at: DateTime<Utc>| at.with_timezone(&zone).format("%b %-d %H:%M").to_string();
    let issued =
        weather.issued_at.map_or_else(String::new, |at| format!(", issued {}", day_and_time(at)));
    format!("Weather: {}{issued}, read {}", weather.source, day_and_time(weather.fetched_at))
}

/// The first line of every output when an old forecast stands in.
pub fn stale_line(age: TimeDelta) -> String {
    format!(
        "STALE FORECAST, {} old: the weather service could not be asked.",
        figures::duration(age)
    )
}
