//! Every sentence of a plan that the crew reads, from the plan's values, in the crew's language.

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use chrono_tz::Tz;

use super::figures;
use super::record_words::known_error;
pub use super::start_words::{trial, trial_because, trial_hints, trial_kind};
use crate::plan::{
    Cause, Checkpoint, DayPlan, Dry, Footage, Likelihood, Note, PlanWeather, Reason, StandBy,
    TestCount, Verdict,
};
use crate::units::{Length, UnitSystem};
use crate::weather::Field;
use crate::words::{Language, short_date, tell};

/// The verdict in a word: `weld`, `care`, `hold`.
pub fn verdict(language: Language, verdict: Verdict) -> String {
    tell!(language, "verdict", verdict = verdict.name())
}

/// Why a checkpoint is there: `air up 10.1 °F since the 07:00 test`.
pub fn because(checkpoint: &Checkpoint, plan: &DayPlan) -> String {
    let language = plan.language;
    let since = |said: String| match checkpoint.last_time {
        Some(last) => {
            let time = figures::clock(last, plan.time_zone);
            format!("{said} {}", tell!(language, "because-since", time))
        }
        None => said,
    };
    match &checkpoint.cause {
        Cause::Start => tell!(language, "because-start"),
        Cause::AfterBreak { name, minutes } => {
            tell!(language, "because-after-break", name, minutes = *minutes)
        }
        Cause::AmbientChange => match checkpoint.change_since_last {
            Some(change) => {
                let by = figures::difference(change, plan.units);
                since(if change.kelvin() < 0.0 {
                    tell!(language, "because-air-down", by)
                } else {
                    tell!(language, "because-air-up", by)
                })
            }
            None => tell!(language, "because-air"),
        },
        Cause::SheetChange => match &checkpoint.center_shift {
            Some(shift) => {
                let by = figures::difference_whole(shift.nominal, plan.units);
                let sheet = since(if shift.nominal.kelvin() < 0.0 {
                    tell!(language, "because-sheet-warmer")
                } else {
                    tell!(language, "because-sheet-cooler")
                });
                tell!(language, "because-sheet-moves", sheet, by)
            }
            None => tell!(language, "because-sheet"),
        },
        Cause::Elapsed { hours } => since(tell!(language, "because-elapsed", hours = *hours)),
        Cause::AfterHold { opens_the_day, held_by } => {
            let held = reasons_short(language, held_by);
            if *opens_the_day {
                tell!(language, "because-first-weldable", held)
            } else {
                tell!(language, "because-after-hold", held)
            }
        }
    }
}

/// What asks for a test that the plan leaves out: `the end of lunch`.
fn cause_noun(language: Language, cause: &Cause) -> String {
    match cause {
        Cause::Start => tell!(language, "cause-start"),
        Cause::AfterBreak { name, .. } => tell!(language, "cause-after-break", name),
        Cause::AmbientChange => tell!(language, "cause-air"),
        Cause::SheetChange => tell!(language, "cause-sheet"),
        Cause::Elapsed { hours } => tell!(language, "cause-elapsed", hours = *hours),
        Cause::AfterHold { held_by, .. } => {
            tell!(language, "cause-after-hold", held = reasons_short(language, held_by))
        }
    }
}

/// Reasons in a word each: `rain, gusts`.
pub fn reasons_short(language: Language, reasons: &[Reason]) -> String {
    let words: Vec<String> = reasons
        .iter()
        .map(|reason| match reason {
            Reason::Rain { .. } => tell!(language, "reason-short-rain"),
            Reason::Snow { .. } => tell!(language, "reason-short-snow"),
            Reason::Thunder => tell!(language, "reason-short-thunder"),
            Reason::WetSheet { frost: false, .. } => tell!(language, "reason-short-wet"),
            Reason::WetSheet { frost: true, .. } => tell!(language, "reason-short-frost"),
            Reason::WindStop { .. } => tell!(language, "reason-short-wind-stop"),
            Reason::DewNear { .. } => tell!(language, "reason-short-dew"),
            Reason::Cold { .. } => tell!(language, "reason-short-cold"),
            Reason::Gust { .. } => tell!(language, "reason-short-gust"),
            Reason::WindShield { .. } => tell!(language, "reason-short-wind"),
            Reason::Heat { .. } => tell!(language, "reason-short-heat"),
            Reason::Dark => tell!(language, "reason-short-dark"),
        })
        .collect();
    words.join(", ")
}

/// A reason in full: `rain, up to 0.15 in within an hour`.
pub fn reason(language: Language, reason: &Reason, units: UnitSystem) -> String {
    let fallen = |what: String, amount: String, over_hours: u32| match over_hours {
        1 => tell!(language, "reason-falls-hourly", what, amount),
        hours => tell!(language, "reason-falls-within", what, amount, hours),
    };
    let wind = |from| figures::wind(from, units);
    match *reason {
        Reason::Rain { total, over_hours } => {
            let rain = tell!(language, "reason-short-rain");
            fallen(rain, figures::rain(total, units), over_hours)
        }
        Reason::Snow { total, over_hours } => {
            let snow = tell!(language, "reason-short-snow");
            fallen(snow, figures::rain(total, units), over_hours)
        }
        Reason::Thunder => tell!(language, "reason-thunder"),
        Reason::WetSheet { depth, frost: true } => {
            tell!(language, "reason-frost", depth = figures::film(depth, units))
        }
        Reason::WetSheet { depth, .. } => {
            tell!(language, "reason-wet", depth = figures::film(depth, units))
        }
        Reason::WindStop { from } => tell!(language, "reason-wind-stop", from = wind(from)),
        Reason::DewNear { within } => {
            tell!(language, "reason-dew", within = figures::difference(within, units))
        }
        Reason::Cold { below } => {
            tell!(language, "reason-cold", below = figures::temperature(below, units))
        }
        Reason::Gust { from } => tell!(language, "reason-gust", from = wind(from)),
        Reason::WindShield { from } => tell!(language, "reason-wind", from = wind(from)),
        Reason::Heat { from } => {
            tell!(language, "reason-heat", from = figures::temperature(from, units))
        }
        Reason::Dark => tell!(language, "reason-dark"),
    }
}

/// What the plan leaves out or bends, and why.
pub fn note(note: &Note, plan: &DayPlan) -> String {
    let language = plan.language;
    let clock = |at: DateTime<Utc>| figures::clock(at, plan.time_zone);
    match note {
        Note::NotAWorkday => {
            let weekday = plan.date.weekday().number_from_monday();
            tell!(language, "note-no-workday", weekday)
        }
        Note::ChangeWaits { due, of_sheet, change, break_name, test_at } => {
            let (due, test) = (clock(*due), clock(*test_at));
            let change = figures::difference(*change, plan.units);
            if *of_sheet {
                tell!(language, "note-change-waits-sheet", due, change, stop = break_name, test)
            } else {
                tell!(language, "note-change-waits-air", due, change, stop = break_name, test)
            }
        }
        Note::TooLate { due, cause } => {
            let cause = cause_noun(language, cause);
            tell!(language, "note-too-late", due = clock(*due), cause)
        }
        Note::HeldToTheEnd { from } => {
            tell!(language, "note-held-to-the-end", from = clock(*from))
        }
        Note::SpeedClamped { welder } => tell!(language, "note-speed-clamped", welder),
        Note::RainUnknown => tell!(language, "note-rain-unknown"),
        Note::FilmUnknown => tell!(language, "note-film-unknown"),
        Note::ShortRunUp { from } => tell!(language, "note-short-run-up", from = clock(*from)),
        Note::ForecastOff(known) => known_error(language, known, plan.units),
        Note::ClockChange { gained_minutes } => {
            let minutes = gained_minutes.abs();
            if *gained_minutes > 0 {
                tell!(language, "note-clock-longer", minutes)
            } else {
                tell!(language, "note-clock-shorter", minutes)
            }
        }
    }
}

/// A weather-driven test: `82 % likely, between 08:20 and 09:05`.
pub fn likelihood(language: Language, likelihood: &Likelihood, zone: Tz) -> String {
    let earliest = figures::clock(likelihood.earliest, zone);
    let latest = figures::clock(likelihood.latest, zone);
    // No forecast makes anything certain.
    if likelihood.percent >= 99.5 {
        return tell!(language, "likely-almost-certain", earliest, latest);
    }
    let percent = figures::whole(likelihood.percent);
    tell!(language, "likely-percent", percent, earliest, latest)
}

/// `65 % that one more test is needed about 13:40 (13:05 to 14:30)`.
pub fn stand_by(language: Language, test: &StandBy, zone: Tz) -> String {
    tell!(
        language,
        "stand-by",
        percent = figures::whole(test.likelihood.percent),
        about = figures::clock(test.about, zone),
        earliest = figures::clock(test.likelihood.earliest, zone),
        latest = figures::clock(test.likelihood.latest, zone),
    )
}

/// How many tests the day may take: `most likely 4; between 4 and 5 on eight days of ten`.
pub fn test_count(language: Language, tests: &TestCount) -> String {
    if tests.p10 == tests.p90 {
        return tell!(language, "tests-one-count", count = tests.p50);
    }
    tell!(language, "tests-between", count = tests.p50, low = tests.p10, high = tests.p90)
}

/// `dry from 08:40 (08:10 to 09:25)`.
pub fn dry(language: Language, dry: &Dry, zone: Tz) -> String {
    let latest =
        dry.latest.map_or_else(|| tell!(language, "dry-later"), |at| figures::clock(at, zone));
    let (from, earliest) = (figures::clock(dry.from, zone), figures::clock(dry.earliest, zone));
    tell!(language, "dry-from", from, earliest, latest)
}

/// Seam of the day: `1,240 ft after tests and breaks; target of 1,000 ft reached at 13:20`.
pub fn footage(language: Language, footage: &Footage, units: UnitSystem, zone: Tz) -> String {
    let seam = figures::length(footage.total, units);
    let Some(target) = footage.target else {
        return tell!(language, "seam-up-to", seam);
    };
    let goal = figures::length(target.length, units);
    match target.reached_at {
        Some(at) => {
            tell!(language, "seam-target-reached", seam, goal, time = figures::clock(at, zone))
        }
        None => {
            let short = Length::from_meters(target.length.meters() - footage.total.meters());
            tell!(language, "seam-target-short", seam, goal, short = figures::length(short, units))
        }
    }
}

/// Source and time of the weather: `Weather: nws, issued Apr 8 16:00, read Apr 8 17:30`.
pub fn weather_line(language: Language, weather: &PlanWeather, zone: Tz) -> String {
    let read = day_and_time(language, weather.fetched_at, zone);
    let source = &weather.source;
    match weather.issued_at {
        Some(issued) => {
            let issued = day_and_time(language, issued, zone);
            tell!(language, "weather-issued-read", source, issued, read)
        }
        None => tell!(language, "weather-read", source, read),
    }
}

/// [`weather_line`] with what the forecast lacks.
pub(super) fn weather_and_gaps(language: Language, weather: &PlanWeather, zone: Tz) -> String {
    let mut parts = vec![weather_line(language, weather, zone)];
    if !weather.missing.is_empty() {
        let fields = fields(language, &weather.missing);
        parts.push(tell!(language, "weather-missing", fields));
    }
    if !weather.partly_missing.is_empty() {
        let fields = fields(language, &weather.partly_missing);
        parts.push(tell!(language, "weather-gaps", fields));
    }
    if !weather.bridged.is_empty() {
        let hours = weather.bridged.iter().map(|at| figures::clock(*at, zone));
        let hours = hours.collect::<Vec<_>>().join(", ");
        parts.push(tell!(language, "weather-bridged", hours));
    }
    parts.join("; ")
}

/// What a forecast may hold, in words.
pub(super) fn fields(language: Language, fields: &[Field]) -> String {
    let names = fields.iter().map(|field| tell!(language, "field", field = field.name()));
    names.collect::<Vec<_>>().join(", ")
}

/// `Apr 8 17:30`, on the zone's clock.
pub(super) fn day_and_time(language: Language, at: DateTime<Utc>, zone: Tz) -> String {
    let local = at.with_timezone(&zone);
    format!("{} {}", short_date(language, local.date_naive()), local.format("%H:%M"))
}

/// The first line of every output when an old forecast stands in.
pub fn stale_line(language: Language, age: TimeDelta) -> String {
    tell!(language, "stale-forecast", age = figures::duration(age))
}
