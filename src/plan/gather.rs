//! From site, forecast and record to the plan of a day.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::advice::{AdviceOn, advice};
use super::center::CenterModel;
use super::checkpoints::{Day, Due, Walked, minutes, stops, walk};
use super::day::{DayPlan, KnownError, Likelihood, PlanHour, PlanWeather, ShiftSpan, TestCount};
use super::error::PlanError;
use super::footage::Seam;
use super::likelihood::{hours, lead, outlook};
use super::mandatory::Checkpoint;
use super::progress::{Progress, SoFar, TestMade};
use super::reasons::Note;
use super::roof::Roof;
use super::roof_moment::RoofMoment;
use super::settings::{Conditions, setting};
use super::spans::{Judge, spans};
use super::summary::{Films, dry, summary};
use super::timeline::{minutes_gained, shift_span};
use crate::physics::forecast_error::spread;
use crate::physics::surface::Band;
use crate::site::Site;
use crate::testweld::{EarlierWindows, SiteError, site_error};
use crate::units::Temperature;
use crate::weather::{AirCover, Field, Forecast};

/// A film followed for less than this before the shift may have missed the evening's dew.
const LONG_ENOUGH_RUN_UP: TimeDelta = TimeDelta::hours(12);

/// Everything that a plan depends on.
#[derive(Clone, Copy)]
pub struct PlanInput<'a> {
    /// The site.
    pub site: &'a Site,
    /// The zone of its shift: the site's own, or the one that the weather source names.
    pub time_zone: Tz,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// The moment of planning. Of a whole day only the forecast's age depends on it; of the rest of
    /// a day no test falls due before it.
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
    plan(input, None)
}

/// Plans what is left of a day that is under way.
///
/// Settled checkpoints stay where they are, with their ids. The rest is counted from the last test:
/// from the ambient that the crew read at it, or, where a due checkpoint came after it, from that
/// one's planned ambient. What already falls due falls due at `input.now`. The forecast must still
/// hold the hours of the shift that are over.
///
/// # Errors
/// See [`plan_day`].
pub fn plan_rest_of_day(input: &PlanInput<'_>, progress: &Progress) -> Result<DayPlan, PlanError> {
    plan(input, Some(progress))
}

fn plan(input: &PlanInput<'_>, progress: Option<&Progress>) -> Result<DayPlan, PlanError> {
    let PlanInput { site, time_zone, date, forecast, .. } = *input;
    let shift = shift_span(&site.shift, &site.rules, date, time_zone)?;
    let last_minute = shift.end - TimeDelta::minutes(1);
    let cover = forecast.air_cover(shift.start, last_minute);
    let air = air_by_minute(input, &shift, &cover)?;

    let roof = Roof::new(site, forecast, shift.start, shift.end);
    let course = roof.minutes(shift.start, shift.end);
    let film = roof.film_run(shift.start, shift.end);
    let films = Films {
        nominal: film.with(Band::Nominal),
        weak: film.with(Band::Low),
        strong: film.with(Band::High),
    };
    let judge = Judge { rules: &site.rules, forecast, film: &films.nominal };
    let spans = spans(&judge, &shift, &course);

    let center = CenterModel::of(site);
    let sheet: Vec<Option<Temperature>> =
        course.iter().map(|moment| moment.sheet.map(|sheet| sheet.nominal)).collect();
    let stops = stops(&shift);
    let minutes = minutes(&shift, &spans, air.len());
    let so_far =
        progress.map(|progress| SoFar::new(progress, &site.rules, &shift, input.now, &air));
    let day = Day {
        rules: &site.rules,
        shift: &shift,
        spans: &spans,
        stops: &stops,
        minutes: &minutes,
        air: &air,
        sheet: &sheet,
        center: &center,
        so_far: so_far.as_ref(),
    };
    let Walked { due, notes } = walk(&day);
    let site_error = site_error(&input.earlier.ambient_pairs(shift.start), lead(forecast, &shift));
    let outlook = outlook(&day, forecast, site_error.as_ref(), &due);
    let known_error = known_error(site_error, lead(forecast, &shift), outlook.tests.as_ref());
    let checkpoints = checkpoints(input, &day, &course, due, outlook.likelihoods);

    let dry = dry(&site.rules, &shift, &spans, &films);
    let notes = all_notes(input, &shift, &films, notes, known_error, &checkpoints);
    let seam =
        Seam { site, shift: &shift, minutes: &minutes, checkpoints: &checkpoints, notes: &notes };
    let footage = seam.footage(&spans);
    let advice = advice(&AdviceOn {
        site,
        shift: &shift,
        spans: &spans,
        roof: &course,
        forecast,
        seam: &seam,
        sun_elevation_deg: &|at| roof.at(at).sun_elevation_deg,
    });
    let plan = DayPlan {
        site: site.name.clone(),
        site_id: site.id.clone(),
        latitude_deg: site.latitude_deg,
        longitude_deg: site.longitude_deg,
        units: site.units,
        language: site.language,
        time_zone,
        date,
        workday: is_workday(site, date),
        weather: plan_weather(input, &shift, cover, known_error),
        summary: summary(&shift, &spans, &air, &course, dry, outlook.tests),
        hours: plan_hours(&judge, &roof, &shift),
        stand_by: outlook.stand_by,
        footage,
        notes,
        advice,
        checkpoints,
        course,
        spans,
        shift,
    };
    Ok(plan)
}

/// The tests that fall due, with what each welder starts from.
fn checkpoints(
    input: &PlanInput<'_>,
    day: &Day<'_>,
    course: &[RoofMoment],
    due: Vec<Due>,
    likelihoods: Vec<Option<Likelihood>>,
) -> Vec<Checkpoint> {
    let site = input.site;
    let mut checkpoints: Vec<Checkpoint> = Vec::with_capacity(due.len());
    let mut last: Option<TestMade> = None;
    for (place, (due, likelihood)) in due.into_iter().zip(likelihoods).enumerate() {
        let settled = day.so_far.and_then(|so_far| so_far.settled.get(place));
        if day.so_far.is_some_and(|so_far| so_far.settled.len() == place) {
            last = day.so_far.and_then(|so_far| so_far.last);
        }
        let ambient = settled.map_or(day.air[due.minute], |settled| settled.air);
        let time = day.time(due.minute);
        let tested = settled.and_then(|settled| settled.tested);
        // A test made ahead of its time did not start from its own result.
        let at = tested.map_or(time, |tested| tested.when.min(time));
        let conditions = Conditions { at, ambient, sheet: day.sheet[due.minute] };
        let settings = site.welders.iter();
        let settings = settings.map(|welder| setting(site, welder, input.earlier, &conditions));
        checkpoints.push(Checkpoint {
            id: due.id,
            time,
            cause: due.cause,
            air: ambient,
            sheet: course[due.minute].sheet,
            center_shift: last.and_then(|last| day.center_shift(day.minute(last.when), due.minute)),
            likelihood,
            change_since_last: last.map(|last| ambient - last.air),
            last_time: last.map(|last| last.when),
            minutes: site.rules.trial_minutes,
            settings: settings.collect(),
        });
        last = tested.or(Some(TestMade { when: time, air: ambient }));
    }
    checkpoints
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

fn plan_hours(judge: &Judge<'_>, roof: &Roof<'_>, shift: &ShiftSpan) -> Vec<PlanHour> {
    let hours = judge.forecast.hours_between(shift.start, shift.end);
    hours
        .map(|hour| {
            let moment = roof.at(hour.time);
            let judgment = judge.judge(&moment);
            PlanHour {
                time: hour.time,
                air: moment.air,
                sheet: moment.sheet,
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

/// How far such forecasts are off at this site; `None` beyond the leads that the spread is stated
/// for.
fn known_error(
    site_error: Option<SiteError>,
    lead: TimeDelta,
    tests: Option<&TestCount>,
) -> Option<KnownError> {
    let site = site_error?;
    Some(KnownError {
        site,
        spread: site.spread(hours(lead))?,
        default_spread: spread(hours(lead))?,
        in_likelihoods: tests.is_some_and(|tests| !tests.from_ensemble),
    })
}

fn plan_weather(
    input: &PlanInput<'_>,
    shift: &ShiftSpan,
    cover: AirCover,
    known_error: Option<KnownError>,
) -> PlanWeather {
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
        known_error,
    }
}

fn all_notes(
    input: &PlanInput<'_>,
    shift: &ShiftSpan,
    films: &Films,
    from_walk: Vec<Note>,
    known_error: Option<KnownError>,
    checkpoints: &[Checkpoint],
) -> Vec<Note> {
    let mut notes = Vec::new();
    if !is_workday(input.site, input.date) {
        notes.push(Note::NotAWorkday);
    }
    let gained_minutes = minutes_gained(shift, &input.site.shift);
    if gained_minutes != 0 {
        notes.push(Note::ClockChange { gained_minutes });
    }
    let hours = || input.forecast.hours_between(shift.start, shift.end);
    if hours().any(|hour| !hour.has(Field::Rain)) {
        notes.push(Note::RainUnknown);
    }
    if films.nominal.last().is_none_or(|last| last.time < shift.end) {
        notes.push(Note::FilmUnknown);
    } else if let Some(first) = films.nominal.first()
        && shift.start - first.time < LONG_ENOUGH_RUN_UP
    {
        notes.push(Note::ShortRunUp { from: first.time });
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
    notes.extend(known_error.map(Note::ForecastOff));
    notes
}
