//! From site, forecast and record to the plan of a day.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::advice::advice;
use super::checkpoints::{Day, Walked, walk};
use super::day::{Checkpoint, DayPlan, Note, PlanHour, PlanWeather, ShiftSpan};
use super::error::PlanError;
use super::settings::setting;
use super::spans::{judge, spans};
use super::summary::summary;
use super::timeline::{minutes_gained, shift_span};
use crate::site::Site;
use crate::testweld::EarlierWindows;
use crate::units::Temperature;
use crate::weather::{AirCover, Field, Forecast};

/// Everything that a plan depends on.
#[derive(Clone, Copy)]
pub struct PlanInput<'a> {
    /// The site.
    pub site: &'a Site,
    /// The zone of its shift: the site's own, or the one that the weather source names.
    pub time_zone: Tz,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// The moment of planning; only the forecast's age depends on it.
    pub now: DateTime<Utc>,
    /// The weather.
    pub forecast: &'a Forecast,
    /// What worked before.
    pub earlier: &'a dyn EarlierWindows,
}

/// Plans one working day.
///
/// # Errors
/// [`PlanError::AirMissing`] when the forecast lacks an air temperature that the shift needs,
/// [`PlanError::ShiftVanishes`] and [`PlanError::DateOutOfReach`] when there is no shift to plan.
pub fn plan_day(input: &PlanInput<'_>) -> Result<DayPlan, PlanError> {
    let PlanInput { site, time_zone, date, forecast, .. } = *input;
    let shift = shift_span(&site.shift, &site.rules, date, time_zone)?;
    let last_minute = shift.end - TimeDelta::minutes(1);
    let cover = forecast.air_cover(shift.start, last_minute);
    let air = air_by_minute(input, &shift, &cover)?;
    let spans = spans(&site.rules, &shift, forecast, &air);
    let Walked { due, notes } =
        walk(&Day { rules: &site.rules, shift: &shift, spans: &spans, air: &air });

    let mut checkpoints: Vec<Checkpoint> = Vec::with_capacity(due.len());
    for due in due {
        let time = shift.start + TimeDelta::minutes(i64::try_from(due.minute).unwrap_or_default());
        let ambient = air[due.minute];
        let before = checkpoints.last();
        let settings = site.welders.iter();
        let settings =
            settings.map(|welder| setting(&site.rules, welder, input.earlier, time, ambient));
        checkpoints.push(Checkpoint {
            id: due.id,
            time,
            cause: due.cause,
            air: ambient,
            change_since_last: before.map(|before| ambient - before.air),
            last_time: before.map(|before| before.time),
            minutes: site.rules.trial_minutes,
            settings: settings.collect(),
        });
    }

    Ok(DayPlan {
        site: site.name.clone(),
        latitude_deg: site.latitude_deg,
        longitude_deg: site.longitude_deg,
        units: site.units,
        time_zone,
        date,
        workday: is_workday(site, date),
        weather: plan_weather(input, &shift, cover),
        summary: summary(&shift, &spans, &air),
        hours: plan_hours(site, forecast, &shift),
        notes: all_notes(input, &shift, notes, &checkpoints),
        advice: advice(&spans, forecast.provenance.stale),
        shift,
        spans,
        checkpoints,
    })
}

/// One air temperature for each minute of the shift, at the minute's start.
fn air_by_minute(
    input: &PlanInput<'_>,
    shift: &ShiftSpan,
    cover: &AirCover,
) -> Result<Vec<Temperature>, PlanError> {
    let minutes = (shift.end - shift.start).num_minutes();
    let values: Option<Vec<Temperature>> = (0..minutes)
        .map(|minute| input.forecast.air_at(shift.start + TimeDelta::minutes(minute)))
        .collect();
    match values {
        Some(air) if cover.missing.is_empty() && !air.is_empty() => Ok(air),
        _ => Err(air_missing(input, cover)),
    }
}

fn air_missing(input: &PlanInput<'_>, cover: &AirCover) -> PlanError {
    let forecast = input.forecast;
    let mut known = forecast.hours().iter().filter(|hour| hour.air.is_some()).map(|hour| hour.time);
    let covers_from = known.next().unwrap_or_else(|| forecast.first());
    PlanError::AirMissing {
        date: input.date,
        time_zone: input.time_zone,
        missing: cover.missing.clone(),
        covers_from,
        covers_to: known.next_back().unwrap_or(covers_from),
    }
}

fn is_workday(site: &Site, date: NaiveDate) -> bool {
    use chrono::Datelike;
    site.shift.workdays.contains(&date.weekday())
}

fn plan_hours(site: &Site, forecast: &Forecast, shift: &ShiftSpan) -> Vec<PlanHour> {
    let hours = forecast.hours_between(shift.start, shift.end);
    hours
        .map(|hour| {
            let air = forecast.air_at(hour.time);
            let judgment = judge(&site.rules, Some(hour), air);
            PlanHour {
                time: hour.time,
                air,
                dew_point: hour.dew_point,
                humidity_pct: hour.humidity_pct,
                wind: hour.wind,
                gust: hour.gust,
                rain: hour.rain.map(|sum| sum.share),
                snow: hour.snow.map(|sum| sum.share),
                verdict: judgment.verdict,
                reasons: judgment.reasons,
            }
        })
        .collect()
}

fn plan_weather(input: &PlanInput<'_>, shift: &ShiftSpan, cover: AirCover) -> PlanWeather {
    let from = &input.forecast.provenance;
    let mut missing = Vec::new();
    let mut partly_missing = Vec::new();
    for field in Field::ALL {
        let hours = || input.forecast.hours_between(shift.start, shift.end);
        match hours().filter(|hour| hour.has(field)).count() {
            0 => missing.push(field),
            count if count < hours().count() => partly_missing.push(field),
            _ => {}
        }
    }
    PlanWeather {
        source: from.source.clone(),
        issued_at: from.issued_at,
        fetched_at: from.fetched_at,
        age: (input.now - from.fetched_at).max(TimeDelta::zero()),
        stale: from.stale,
        attribution: from.attribution.clone(),
        missing,
        partly_missing,
        bridged: cover.bridged,
    }
}

fn all_notes(
    input: &PlanInput<'_>,
    shift: &ShiftSpan,
    from_walk: Vec<Note>,
    checkpoints: &[Checkpoint],
) -> Vec<Note> {
    let mut notes = Vec::new();
    if !is_workday(input.site, input.date) {
        notes.push(Note::NotAWorkday);
    }
    let gained_minutes = minutes_gained(shift, input.time_zone);
    if gained_minutes != 0 {
        notes.push(Note::ClockChange { gained_minutes });
    }
    let hours = || input.forecast.hours_between(shift.start, shift.end);
    if hours().any(|hour| !hour.has(Field::Rain)) {
        notes.push(Note::RainUnknown);
    }
    notes.extend(from_walk);
    for welder in &input.site.welders {
        let clamped = checkpoints
            .iter()
            .flat_map(|checkpoint| &checkpoint.settings)
            .any(|setting| setting.welder == welder.name && setting.speed_before_clamp.is_some());
        if clamped {
            notes.push(Note::SpeedClamped { welder: welder.name.clone() });
        }
    }
    notes
}
