//! What must hold of every plan, whatever the site, the day and the weather.
//!
//! Sites are written as site files and loaded as a user's would be; days lie near clock changes as
//! often as not. The walk of the plan is not repeated here: each property is read off the plan, the
//! forecast and the site alone. The counts at the end prove that the hard regions were reached.

mod cases;

use std::cell::RefCell;
use std::collections::BTreeSet;

use chrono::{DateTime, Datelike, Offset, TimeDelta, TimeZone, Utc};
use fairseam::plan::{Cause, Checkpoint, DayPlan, Note, PlanError, PlanInput, Verdict, plan_day};
use fairseam::render::{ics, json, text};
use fairseam::site::Site;
use fairseam::store::{DayKey, Previous, revise};
use fairseam::testweld::NoRecords;
use fairseam::units::{Temperature, TemperatureDifference};
use fairseam::weather::Forecast;
use proptest::prelude::ProptestConfig;
use proptest::test_runner::{RngAlgorithm, TestCaseError, TestRng, TestRunner};
use proptest::{prop_assert, prop_assert_eq};

use cases::{Case, Sky, cases};

/// Runs `check` over this many generated cases, the same ones every time.
fn for_every_case(count: u32, sky: Sky, check: impl Fn(&Case) -> Result<(), TestCaseError>) {
    let config = ProptestConfig {
        cases: count,
        failure_persistence: None,
        max_shrink_iters: 100,
        ..ProptestConfig::default()
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    TestRunner::new_with_rng(config, rng).run(&cases(sky), |case| check(&case)).unwrap();
}

fn plan_of(site: &Site, case: &Case, forecast: &Forecast) -> Result<DayPlan, PlanError> {
    plan_day(&PlanInput {
        site,
        time_zone: case.zone,
        date: case.date,
        now: forecast.provenance.fetched_at,
        forecast,
        earlier: &NoRecords { carry_days: site.rules.carry_days },
    })
}

/// The plan, or `None` where the clock change leaves no shift to plan.
fn plan(case: &Case) -> Result<Option<(Site, Forecast, DayPlan)>, TestCaseError> {
    let (site, forecast) = (case.site(), case.forecast());
    match plan_of(&site, case, &forecast) {
        Ok(plan) => Ok(Some((site, forecast, plan))),
        Err(PlanError::ShiftVanishes { .. }) => Ok(None),
        Err(error) => Err(TestCaseError::fail(format!("{error} for\n{}", case.toml()))),
    }
}

fn minutes(plan: &DayPlan) -> impl Iterator<Item = DateTime<Utc>> {
    let (start, end) = (plan.shift.start, plan.shift.end);
    (0..).map(move |n| start + TimeDelta::minutes(n)).take_while(move |at| *at < end)
}

fn in_break(plan: &DayPlan, at: DateTime<Utc>) -> bool {
    plan.shift.breaks.iter().any(|stop| stop.start <= at && at < stop.end)
}

fn in_hold(plan: &DayPlan, at: DateTime<Utc>) -> bool {
    let holds = plan.spans.iter().filter(|span| span.verdict == Verdict::Hold);
    holds.into_iter().any(|span| span.start <= at && at < span.end)
}

fn works(plan: &DayPlan, at: DateTime<Utc>) -> bool {
    !in_break(plan, at) && !in_hold(plan, at)
}

/// From the first test that the plan leaves out at the end of the shift.
fn too_late_from(plan: &DayPlan) -> Option<DateTime<Utc>> {
    plan.notes.iter().find_map(|note| match note {
        Note::TooLate { due, .. } => Some(*due),
        _ => None,
    })
}

/// Whether a note says that a change which fell due by `at` waits for a test that is still to come.
fn is_waiting(plan: &DayPlan, at: DateTime<Utc>) -> bool {
    plan.notes.iter().any(|note| {
        matches!(note, Note::ChangeWaits { due, test_at, .. } if *due <= at && at < *test_at)
    })
}

fn shape_holds(plan: &DayPlan) -> Result<(), TestCaseError> {
    prop_assert!(plan.shift.start < plan.shift.end);
    let first = plan.spans.first().map(|span| span.start);
    let last = plan.spans.last().map(|span| span.end);
    prop_assert_eq!((first, last), (Some(plan.shift.start), Some(plan.shift.end)));
    for pair in plan.spans.windows(2) {
        prop_assert_eq!(pair[0].end, pair[1].start, "spans with a hole or an overlap");
    }
    for span in &plan.spans {
        prop_assert!(span.start < span.end);
        prop_assert_eq!(span.reasons.is_empty(), span.verdict == Verdict::Weld);
    }
    let mut free_from = plan.shift.start;
    for stop in &plan.shift.breaks {
        prop_assert!(free_from <= stop.start && stop.start < stop.end);
        free_from = stop.end;
    }
    prop_assert!(free_from <= plan.shift.end);
    for pair in plan.checkpoints.windows(2) {
        prop_assert!(pair[0].time < pair[1].time, "checkpoints out of order");
    }
    let ids: BTreeSet<&str> = plan.checkpoints.iter().map(|point| point.id.as_str()).collect();
    prop_assert_eq!(ids.len(), plan.checkpoints.len(), "an id occurs twice");
    Ok(())
}

fn tests_stand_where_they_may(site: &Site, plan: &DayPlan) -> Result<(), TestCaseError> {
    let last = TimeDelta::minutes(site.rules.last_test_before_end_minutes.into());
    for point in &plan.checkpoints {
        let at = point.time;
        prop_assert!(plan.shift.start <= at && at < plan.shift.end, "{} off the shift", point.id);
        prop_assert!(!in_break(plan, at), "{} in a break", point.id);
        prop_assert!(!in_hold(plan, at), "{} in a hold", point.id);
        prop_assert!(
            point.cause == Cause::Start || at < plan.shift.end - last,
            "{} too late in the shift",
            point.id
        );
    }
    Ok(())
}

/// The first working minute of the day, and that after every hold and every long break, has a test
/// unless it comes too late.
fn every_stop_is_tested_after(plan: &DayPlan) -> Result<(), TestCaseError> {
    let mut asked = true;
    for at in minutes(plan) {
        if works(plan, at) {
            let tested = plan.checkpoints.iter().any(|point| point.time == at);
            let too_late = too_late_from(plan).is_some_and(|from| from <= at);
            prop_assert!(!asked || tested || too_late, "no test at {at} after a stop");
            asked = false;
        }
        let long = |stop: &fairseam::plan::BreakSpan| stop.start <= at && at < stop.end;
        asked |=
            in_hold(plan, at) || plan.shift.breaks.iter().any(|stop| stop.needs_test && long(stop));
    }
    Ok(())
}

/// Working minutes between two tests lie within the change of the first of them, and no further
/// from it in time than the rule allows.
fn nothing_moves_untested(
    site: &Site,
    forecast: &Forecast,
    plan: &DayPlan,
) -> Result<(), TestCaseError> {
    let longest = TimeDelta::seconds((site.rules.max_hours_between * 3600.0) as i64);
    let mut last: Option<&Checkpoint> = None;
    let mut points = plan.checkpoints.iter().peekable();
    for at in minutes(plan) {
        if let Some(point) = points.next_if(|point| point.time == at) {
            let air = forecast.air_at(at).map(Temperature::celsius);
            prop_assert!((point.air.celsius() - air.unwrap()).abs() < 1e-9);
            last = Some(point);
        }
        let Some(last) = last else { continue };
        if !works(plan, at) || too_late_from(plan).is_some_and(|from| from <= at) {
            continue;
        }
        prop_assert!(at - last.time < longest, "{at} is too long after {}", last.id);
        let change = forecast.air_at(at).unwrap() - last.air;
        prop_assert!(
            !change.abs().reaches(site.rules.ambient_change) || is_waiting(plan, at),
            "at {at} the air has moved by {change:?} since {} and nobody says why",
            last.id
        );
    }
    prop_assert!(points.next().is_none(), "a checkpoint off the minutes of the shift");
    Ok(())
}

/// A change is found no later than in the minute in which it falls due.
fn changes_are_found_at_once(
    site: &Site,
    forecast: &Forecast,
    plan: &DayPlan,
) -> Result<(), TestCaseError> {
    let minute = TimeDelta::minutes(1);
    for pair in plan.checkpoints.windows(2).filter(|pair| pair[1].cause == Cause::AmbientChange) {
        let (at, from) = (pair[1].time, pair[0].air);
        let change = (forecast.air_at(at).unwrap() - from).abs();
        prop_assert!(change.reaches(site.rules.ambient_change), "{} too early", pair[1].id);
        let before = (forecast.air_at(at - minute).unwrap() - from).abs();
        let just_in_time = !before.reaches(site.rules.ambient_change);
        prop_assert!(just_in_time || !works(plan, at - minute), "{} too late", pair[1].id);
    }
    Ok(())
}

#[derive(Debug, Default)]
struct Reached {
    clock_change: u32,
    night: u32,
    hold: u32,
    hold_to_the_end: u32,
    waits: u32,
    too_late: u32,
    change: u32,
    elapsed: u32,
    sheet_change: u32,
    break_in_the_doubled_hour: u32,
    bridged: u32,
    before_1990: u32,
    after_2037: u32,
    clock_change_after_2037: u32,
    /// North of the polar circle with the sun up at midnight, and without a sun at noon.
    polar_day: u32,
    polar_night: u32,
    /// A zone whose clock is not whole hours off.
    odd_minutes: u32,
    bitter_cold: u32,
    great_heat: u32,
}

impl Reached {
    fn count(&mut self, case: &Case, plan: &DayPlan) {
        let caused = |name: &str| plan.checkpoints.iter().any(|point| point.cause.name() == name);
        let noted = |which: fn(&Note) -> bool| plan.notes.iter().any(which);
        let local = |at: DateTime<Utc>| at.with_timezone(&plan.time_zone).naive_local();
        let backwards = plan.shift.breaks.iter().any(|stop| local(stop.end) <= local(stop.start));
        let holds = plan.spans.iter().any(|span| span.verdict == Verdict::Hold);
        let night = local(plan.shift.start).date() != local(plan.shift.end).date();
        let declination_sign = if (4..=9).contains(&case.date.month()) { 1.0 } else { -1.0 };
        let polar = |sign: f64| {
            // Within a month of the solstice, inside the circle by its 66.6 degrees.
            matches!(case.date.month(), 6 | 12)
                && case.latitude_deg * declination_sign * sign > 68.0
        };
        let offset = case.zone.offset_from_utc_datetime(&plan.shift.start.naive_utc()).fix();
        let air = || plan.hours.iter().filter_map(|hour| hour.air).map(|air| air.celsius());
        for (counter, seen) in [
            (&mut self.before_1990, case.date.year() < 1990),
            (&mut self.after_2037, case.date.year() > 2037),
            (&mut self.polar_day, polar(1.0)),
            (&mut self.polar_night, polar(-1.0)),
            (&mut self.odd_minutes, offset.local_minus_utc() % 3600 != 0),
            (&mut self.bitter_cold, air().any(|air| air < -30.0)),
            (&mut self.great_heat, air().any(|air| air > 40.0)),
            (
                &mut self.clock_change_after_2037,
                case.date.year() > 2037 && noted(|note| matches!(note, Note::ClockChange { .. })),
            ),
            (&mut self.clock_change, noted(|note| matches!(note, Note::ClockChange { .. }))),
            (&mut self.night, night),
            (&mut self.hold, holds),
            (&mut self.hold_to_the_end, noted(|note| matches!(note, Note::HeldToTheEnd { .. }))),
            (&mut self.waits, noted(|note| matches!(note, Note::ChangeWaits { .. }))),
            (&mut self.too_late, noted(|note| matches!(note, Note::TooLate { .. }))),
            (&mut self.change, caused("ambient-change")),
            (&mut self.elapsed, caused("elapsed")),
            (&mut self.sheet_change, caused("sheet-change")),
            (&mut self.break_in_the_doubled_hour, backwards),
            (&mut self.bridged, !plan.weather.bridged.is_empty()),
        ] {
            *counter += u32::from(seen);
        }
    }

    fn assert_all(&self) {
        let shown = format!("{self:?}");
        assert!(!shown.contains(": 0,") && !shown.contains(": 0 }"), "not reached: {shown}");
    }
}

#[test]
fn every_plan_tests_what_must_be_tested_and_nothing_where_it_cannot() {
    let reached = RefCell::new(Reached::default());
    for_every_case(240, Sky::Full, |case| {
        let Some((site, forecast, plan)) = plan(case)? else { return Ok(()) };
        reached.borrow_mut().count(case, &plan);
        shape_holds(&plan)?;
        tests_stand_where_they_may(&site, &plan)?;
        every_stop_is_tested_after(&plan)?;
        nothing_moves_untested(&site, &forecast, &plan)?;
        changes_are_found_at_once(&site, &forecast, &plan)
    });
    reached.borrow().assert_all();
}

fn calendar(site: &Site, plan: &DayPlan) -> String {
    let entries = ics::entries(plan, &site.reminders);
    let now = plan.weather.fetched_at;
    let (events, _) = revise(&Previous::Unpublished, &DayKey::of(plan), &entries, now);
    ics::calendar(&plan.site, &events).unwrap()
}

#[test]
fn planning_twice_gives_equal_plans_and_identical_bytes() {
    for_every_case(12, Sky::Full, |case| {
        let (Some((site, _, once)), Some((_, _, twice))) = (plan(case)?, plan(case)?) else {
            return Ok(());
        };
        prop_assert_eq!(&once, &twice);
        prop_assert_eq!(json::plan_json(&once), json::plan_json(&twice));
        prop_assert_eq!(calendar(&site, &once), calendar(&site, &twice));
        let page = text::plan_text(&once, text::Paint::Plain);
        prop_assert_eq!(&page, &text::plan_text(&twice, text::Paint::Plain));
        let wide = page.lines().find(|line| line.chars().count() > 80);
        prop_assert_eq!(wide, None, "in\n{}", page);
        Ok(())
    });
}

/// The plan with everything that follows the order of the welders put into one order, and the
/// total of their seams, which is a sum in that order.
fn in_one_order(mut plan: DayPlan) -> (DayPlan, f64) {
    for point in &mut plan.checkpoints {
        point.settings.sort_by(|one, other| one.welder.cmp(&other.welder));
    }
    plan.notes.sort_by_key(|note| format!("{note:?}"));
    plan.advice.sort_by_key(|advice| format!("{advice:?}"));
    let total = plan.footage.take().map_or(0.0, |mut footage| {
        footage.stretches.sort_by_key(|stretch| format!("{:?}", (stretch.start, &stretch.welder)));
        footage.total.meters()
    });
    (plan, total)
}

/// Hours in a row without air are a gap, and over a gap there is no plan: the error names it.
#[test]
fn a_gap_in_the_shift_is_an_error_and_never_a_guess() {
    let (refused, planned) = (RefCell::new(0), RefCell::new(0));
    for_every_case(60, Sky::Full, |case| {
        let Some((site, forecast, plan)) = plan(case)? else { return Ok(()) };
        let hole = plan.shift.start + (plan.shift.end - plan.shift.start) / 2;
        let inside = |time: DateTime<Utc>| (time - hole).abs() < TimeDelta::hours(3);
        let rows = forecast.hours().iter().map(|hour| fairseam::weather::Hour {
            air: hour.air.filter(|_| !inside(hour.time)),
            ..*hour
        });
        let holed = Forecast::from_hours(forecast.provenance.clone(), rows.collect()).unwrap();
        match plan_of(&site, case, &holed) {
            Err(error) => {
                *refused.borrow_mut() += 1;
                prop_assert!(error.to_string().contains("air"), "{}", error);
            }
            Ok(plan) => {
                *planned.borrow_mut() += 1;
                prop_assert!(false, "planned over a gap of five hours: {:?}", plan.weather.bridged);
            }
        }
        Ok(())
    });
    assert!(*refused.borrow() > 30, "{refused:?} {planned:?}");
}

#[test]
fn permuting_the_welders_changes_nothing_but_their_order() {
    let permuted = RefCell::new(0);
    for_every_case(20, Sky::Full, |case| {
        let Some((mut site, forecast, plan)) = plan(case)? else { return Ok(()) };
        *permuted.borrow_mut() += u32::from(site.welders.len() > 1);
        site.welders.rotate_left(1);
        let other = plan_of(&site, case, &forecast).unwrap();
        let ((plan, seam), (other, other_seam)) = (in_one_order(plan), in_one_order(other));
        prop_assert_eq!(plan, other);
        prop_assert!((seam - other_seam).abs() < 1e-6, "{seam} m and {other_seam} m of seam");
        Ok(())
    });
    assert!(*permuted.borrow() > 10, "{permuted:?}");
}

#[test]
fn warmer_air_of_the_same_course_is_tested_at_the_same_times() {
    let tested = RefCell::new(0);
    for_every_case(32, Sky::AirAlone, |case| {
        let Some((site, forecast, plan)) = plan(case)? else { return Ok(()) };
        let rows = forecast.hours().iter().map(|hour| {
            let one = TemperatureDifference::from_fahrenheit(1.0);
            fairseam::weather::Hour { air: hour.air.map(|air| air + one), ..*hour }
        });
        let warmer = Forecast::from_hours(forecast.provenance.clone(), rows.collect()).unwrap();
        let warmer = plan_of(&site, case, &warmer).unwrap();
        let times = |plan: &DayPlan| -> Vec<(String, DateTime<Utc>)> {
            plan.checkpoints.iter().map(|point| (point.id.clone(), point.time)).collect()
        };
        *tested.borrow_mut() +=
            times(&plan).iter().filter(|(id, _)| id.starts_with("change")).count();
        prop_assert_eq!(times(&plan), times(&warmer));
        Ok(())
    });
    assert!(*tested.borrow() > 10, "{tested:?}");
}
