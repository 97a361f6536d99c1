//! How sure the weather-driven tests are: the same walk over many likely courses of the day.
//!
//! The courses are an ensemble's members where the source gives them, else the forecast plus error
//! courses of the error model, with the bias and spread that the book has found at this site. The mandatory checkpoints are decided by the forecast alone.

use std::collections::BTreeMap;

use chrono::TimeDelta;

use super::checkpoints::{Day, Due, walk};
use super::day::{Likelihood, ShiftSpan, StandBy, TestCount};
use super::mandatory::Cause;
use crate::physics::forecast_error::error_paths;
use crate::testweld::SiteError;
use crate::units::{Temperature, TemperatureDifference};
use crate::weather::Forecast;

/// What the courses say of the day.
#[derive(Debug, Default)]
pub(super) struct Outlook {
    /// One for each test of the plan; `None` where the weather does not drive it.
    pub(super) likelihoods: Vec<Option<Likelihood>>,
    pub(super) stand_by: Vec<StandBy>,
    pub(super) tests: Option<TestCount>,
}

/// Which weather-driven test: the mandatory one before it, and its number since.
type Place = (String, usize);

/// Fewer members than this are no distribution.
const FEWEST_MEMBERS: usize = 5;

/// Walks every course and holds the tests of the plan, `planned`, against them.
pub(super) fn outlook(
    day: &Day<'_>,
    forecast: &Forecast,
    site_error: Option<&SiteError>,
    planned: &[Due],
) -> Outlook {
    let (courses, from_ensemble) = courses(day, forecast, site_error);
    if courses.is_empty() {
        return Outlook { likelihoods: vec![None; planned.len()], ..Outlook::default() };
    }
    let mut times: BTreeMap<Place, Vec<usize>> = BTreeMap::new();
    let mut counts = Vec::with_capacity(courses.len());
    let mut with_change = 0;
    for course in &courses {
        let due = walk_course(day, course);
        counts.push(due.len());
        with_change += usize::from(weather_driven(&due).next().is_some());
        for (place, minute) in weather_driven(&due) {
            times.entry(place).or_default().push(minute);
        }
    }
    counts.sort_unstable();
    for minutes in times.values_mut() {
        minutes.sort_unstable();
    }
    let in_plan: Vec<(Place, usize)> = weather_driven(planned).collect();
    let likelihood = |minutes: &[usize]| likelihood(day, minutes, courses.len());
    let likelihoods = planned.iter().map(|due| {
        let (place, _) = in_plan.iter().find(|(_, minute)| *minute == due.minute)?;
        // A test that no course asks for is weather-driven all the same, and most unlikely.
        let never = Likelihood {
            percent: 0.0,
            earliest: day.time(due.minute),
            latest: day.time(due.minute),
        };
        Some(times.get(place).and_then(|minutes| likelihood(minutes)).unwrap_or(never))
    });
    let stand_by = times
        .iter()
        .filter(|(place, _)| !in_plan.iter().any(|(planned, _)| planned == *place))
        .filter_map(|(_, minutes)| {
            let likelihood = likelihood(minutes)?;
            let about = day.time(quantile(minutes, 0.5)?);
            (likelihood.percent >= day.rules.standby_pct).then_some(StandBy { likelihood, about })
        });
    let mut stand_by: Vec<StandBy> = stand_by.collect();
    stand_by.sort_by_key(|test| test.about);
    Outlook {
        likelihoods: likelihoods.collect(),
        stand_by,
        tests: test_count(&counts, with_change, from_ensemble),
    }
}

/// What to add to the forecast's air at each minute, one list for each course.
fn courses(
    day: &Day<'_>,
    forecast: &Forecast,
    site_error: Option<&SiteError>,
) -> (Vec<Vec<TemperatureDifference>>, bool) {
    let from_members: Vec<_> =
        (0..forecast.members()).filter_map(|member| member_course(day, forecast, member)).collect();
    if from_members.len() >= FEWEST_MEMBERS {
        return (from_members, true);
    }
    (error_courses(day, forecast, site_error).unwrap_or_default(), false)
}

/// A member's own air less the forecast's; `None` where the member has a gap in the shift.
fn member_course(
    day: &Day<'_>,
    forecast: &Forecast,
    member: usize,
) -> Option<Vec<TemperatureDifference>> {
    day.air
        .iter()
        .enumerate()
        .map(|(minute, air)| Some(forecast.member_air_at(member, day.time(minute))? - *air))
        .collect()
}

/// From the moment at which the forecast was known to the start of the shift.
pub(super) fn lead(forecast: &Forecast, shift: &ShiftSpan) -> TimeDelta {
    shift.start - forecast.provenance.issued_at.unwrap_or(forecast.provenance.fetched_at)
}

/// A lead in hours.
#[expect(clippy::cast_precision_loss, reason = "hours of a lead")]
pub(super) fn hours(lead: TimeDelta) -> f64 {
    lead.num_minutes() as f64 / 60.0
}

/// The courses of the error model, with the site's own bias and spread where they are known.
///
/// One bias and one spread ratio for the whole shift, those of the lead at its start: a step where
/// one range of leads ends and the next begins would look like a change of the air.
fn error_courses(
    day: &Day<'_>,
    forecast: &Forecast,
    site_error: Option<&SiteError>,
) -> Option<Vec<Vec<TemperatureDifference>>> {
    let (bias, ratio) =
        site_error.map_or((0.0, 1.0), |error| (error.bias.kelvin(), error.spread_ratio));
    let paths = error_paths(hours(lead(forecast, day.shift)), day.air.len() / 60 + 2)?;
    let course = |member: usize| -> Option<Vec<TemperatureDifference>> {
        (0..day.air.len())
            .map(|minute| {
                let (hour, into) = (minute / 60, minute % 60);
                let (from, to) = (paths.at_step(member, hour)?, paths.at_step(member, hour + 1)?);
                #[expect(clippy::cast_precision_loss, reason = "below 60")]
                let share = into as f64 / 60.0;
                let error = from.kelvin() + (to.kelvin() - from.kelvin()) * share;
                Some(TemperatureDifference::from_kelvin(bias + ratio * error))
            })
            .collect()
    };
    (0..paths.members()).map(course).collect()
}

/// The tests of one course. The sheet follows the air's error degree for degree, since nothing else
/// of its balance changes.
fn walk_course(day: &Day<'_>, course: &[TemperatureDifference]) -> Vec<Due> {
    let air: Vec<Temperature> =
        day.air.iter().zip(course).map(|(air, error)| *air + *error).collect();
    let sheet: Vec<Option<Temperature>> =
        day.sheet.iter().zip(course).map(|(sheet, error)| Some((*sheet)? + *error)).collect();
    walk(&Day { air: &air, sheet: &sheet, ..*day }).due
}

/// The weather-driven tests among `due`, each by its place.
fn weather_driven(due: &[Due]) -> impl Iterator<Item = (Place, usize)> {
    let mut after = String::new();
    let mut number = 0;
    due.iter().filter_map(move |due| {
        if matches!(due.cause, Cause::AmbientChange | Cause::SheetChange) {
            number += 1;
            return Some(((after.clone(), number), due.minute));
        }
        // The longest time without a test depends on the weather too, so it is no landmark.
        if !matches!(due.cause, Cause::Elapsed { .. }) {
            after.clone_from(&due.id);
            number = 0;
        }
        None
    })
}

fn likelihood(day: &Day<'_>, minutes: &[usize], courses: usize) -> Option<Likelihood> {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred courses")]
    let percent = 100.0 * minutes.len() as f64 / courses as f64;
    Some(Likelihood {
        percent,
        earliest: day.time(quantile(minutes, 0.1)?),
        latest: day.time(quantile(minutes, 0.9)?),
    })
}

fn test_count(sorted: &[usize], with_change: usize, from_ensemble: bool) -> Option<TestCount> {
    Some(TestCount {
        p10: quantile(sorted, 0.1)?,
        p50: quantile(sorted, 0.5)?,
        p90: quantile(sorted, 0.9)?,
        courses: sorted.len(),
        with_change,
        from_ensemble,
    })
}

/// The value below which a share of the sorted values lies, the nearest one taken.
fn quantile(sorted: &[usize], share: f64) -> Option<usize> {
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "an index into the list"
    )]
    let index = (share * sorted.len().saturating_sub(1) as f64).round() as usize;
    sorted.get(index).copied()
}
