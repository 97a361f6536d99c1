//! How sure a test is, against chances worked by hand.
//!
//! In a day of two points, when the crew works for one minute at ten and one at three, a course asks
//! for a test exactly where its change between the two reaches the limit. The error of that change
//! is normal with σ√(2(1 − ρ)), σ = √(2.5² + (0.035 lead)²) °F and ρ = exp(−hours / 10)
//! (docs/physics-people-power.md), so the chance is a value of the normal distribution.

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::plan::{DayPlan, TestCount};
use fairseam::site::Site;
use fairseam::units::Temperature;
use fairseam::weather::Forecast;

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{JUNE, at, checkpoint, clock, fahrenheit, forecast, plan, site, tests};

/// Work from 10:00 to 10:01 and from 15:00 to 15:01; the stop between asks for no test of its own.
fn two_points(more: &[(&str, &str)]) -> Site {
    let mut overrides = vec![
        ("shift.start", "\"10:00\""),
        ("shift.end", "\"15:01\""),
        ("shift.breaks", "[ { name = \"stop\", start = \"10:01\", minutes = 299 } ]"),
        ("rules.break_needs_test_minutes", "720"),
        ("rules.last_test_before_end_minutes", "0"),
        ("rules.max_hours_between", "24"),
    ];
    overrides.extend(more);
    site(&overrides)
}

/// 60 °F until ten, `change` °F more at three, straight between; the sky, and so the sheet, unknown.
fn ramp(change: f64) -> Forecast {
    forecast(JUNE, move |hour, row| {
        let share = ((hour - 10) as f64 / 5.0).clamp(0.0, 1.0);
        row.air = fahrenheit(60.0 + change * share);
        row.cloud_cover_pct = None;
    })
}

/// The ramp as it was known `lead` hours before the shift.
fn known(mut forecast: Forecast, lead_hours: i64) -> Forecast {
    forecast.provenance.issued_at = Some(at(JUNE, "10:00") - TimeDelta::hours(lead_hours));
    forecast
}

/// Percent of all courses that a sample of 200 may stray from the chance: three standard errors.
fn sampling_error(chance: f64) -> f64 {
    100.0 * 3.0 * (chance * (1.0 - chance) / 200.0).sqrt()
}

/// (lead to the first point in hours, change in °F, chance). By hand, ρ = e^-0.5 = 0.6065:
/// lead 0: σ 2.5000 and 2.5061, of the change 2.2205; lead 24: σ 2.6373 and 2.6982, of the change
/// 2.3672; lead 72: σ 3.5497 and 3.6760, of the change 3.2069. Chance Φ((change − 10) / σ), the other
/// direction below 1e-5; Φ(z) = erfc(−z/√2)/2 by Python's `math.erfc`.
const CHANCES: &[(i64, f64, f64)] = &[
    (0, 8.0, 0.1839),   // z = -0.901
    (0, 10.0, 0.5),     // z = 0
    (0, 12.0, 0.8161),  // z = 0.901
    (24, 8.0, 0.1991),  // z = -0.845
    (24, 12.0, 0.8009), // z = 0.845
    (24, 14.0, 0.9545), // z = 1.690
    (72, 5.0, 0.0595),  // z = -1.559
    (72, 8.0, 0.2664),  // z = -0.624
    (72, 12.0, 0.7336), // z = 0.624
];

/// The likelihood of the change of a two-point day, whether planned or a stand-by, in percent.
fn percent(plan: &DayPlan) -> f64 {
    let planned = plan.checkpoints.iter().filter_map(|point| point.likelihood);
    let all: Vec<f64> =
        planned.chain(plan.stand_by.iter().map(|s| s.likelihood)).map(|l| l.percent).collect();
    assert_eq!(all.len(), 1, "{:?} {:?}", tests(plan), plan.stand_by);
    all[0]
}

#[test]
fn the_chance_of_a_two_point_day_is_that_of_the_closed_form() {
    let site = two_points(&[("rules.standby_pct", "1")]);
    let mut proof = Proof::of(
        "doubt/two-point-day",
        "How sure a test is on a day of two moments, %",
        "the closed form by hand, with Python's math.erfc",
        "days",
        Allowed::Each("three standard errors of 200 courses"),
    );
    for &(lead, change, chance) in CHANCES {
        let plan = plan(&site, JUNE, &known(ramp(change), lead));
        let got = percent(&plan);
        let label = format!("{lead} h ahead, {change} °F");
        proof.within(got, 100.0 * chance, sampling_error(chance), || label.clone());
        // The forecast alone decides what is a checkpoint and what a stand-by.
        assert_eq!(plan.checkpoints.len(), 1 + usize::from(change >= 10.0), "{label}");
        assert_eq!(plan.stand_by.len(), usize::from(change < 10.0), "{label}");
        let count = plan.summary.tests.unwrap();
        let spread = (1 + usize::from(chance > 0.91), 1 + usize::from(chance > 0.11));
        assert_eq!((count.p10, count.p90), spread, "{label}");
        assert!(!count.from_ensemble);
    }
    proof.done();
}

#[test]
fn far_from_the_limit_a_test_is_sure_or_out_of_sight() {
    let site = two_points(&[("rules.standby_pct", "1")]);
    let sure = plan(&site, JUNE, &known(ramp(25.0), 24));
    assert_eq!(tests(&sure), ["start 10:00", "change-1 15:00"]);
    assert!((percent(&sure) - 100.0).abs() < 1e-9, "6 standard deviations beyond");
    let calm = plan(&site, JUNE, &known(ramp(0.0), 0));
    assert_eq!((tests(&calm), calm.stand_by.len()), (vec!["start 10:00".to_owned()], 0));
    let count = calm.summary.tests.unwrap();
    assert_eq!((count.p10, count.p50, count.p90), (1, 1, 1));
    // A mandatory test has no likelihood of its own.
    assert_eq!(checkpoint(&sure, "start").likelihood, None);
}

#[test]
fn a_near_miss_is_a_stand_by_from_its_percentage_on() {
    // 9 °F a day ahead, by hand: z = -0.422, 33.6 %; 9.5 °F: z = -0.211, 41.6 %; each to 10 %.
    let near = known(ramp(9.5), 24);
    let with = |percent: &str| plan(&two_points(&[("rules.standby_pct", percent)]), JUNE, &near);
    let shown = with("30");
    assert_eq!(tests(&shown), ["start 10:00"]);
    let [stand_by] = shown.stand_by[..] else { panic!("{:?}", shown.stand_by) };
    let mut proof = Proof::of(
        "doubt/near-miss",
        "How sure a test is that the forecast itself does not ask for, %",
        "the closed form by hand",
        "day",
        Allowed::Each("three standard errors of 200 courses"),
    );
    proof.within(stand_by.likelihood.percent, 41.6, sampling_error(0.416), String::new);
    proof.done();
    assert_eq!(clock(&shown, stand_by.about), "15:00");
    assert!(with("53").stand_by.is_empty());
}

/// 510 minutes of work on a day that warms by 12 °F in the morning: the change falls due about 10:50.
fn morning(known_at: DateTime<Utc>) -> Forecast {
    let mut weather = forecast(JUNE, |hour, row| {
        row.air = fahrenheit(60.0 + 12.0 * ((hour - 7) as f64 / 4.0).clamp(0.0, 1.0));
        row.cloud_cover_pct = None;
    });
    weather.provenance.fetched_at = known_at;
    weather
}

fn no_breaks() -> Site {
    site(&[("shift.breaks", "[]"), ("rules.max_hours_between", "24")])
}

#[test]
fn the_same_day_gives_the_same_answer_and_its_times_are_in_order() {
    let evening = at(JUNE, "0:00") - TimeDelta::hours(6);
    let first = plan(&no_breaks(), JUNE, &morning(evening));
    assert_eq!(first, plan(&no_breaks(), JUNE, &morning(evening)));
    let change = checkpoint(&first, "change-1");
    let likelihood = change.likelihood.unwrap();
    assert!(likelihood.earliest <= likelihood.latest, "{likelihood:?}");
    assert!(likelihood.earliest < change.time && change.time < likelihood.latest, "{likelihood:?}");
    assert!((0.0..=100.0).contains(&likelihood.percent));
    let TestCount { p10, p50, p90, courses, .. } = first.summary.tests.unwrap();
    assert!(1 <= p10 && p10 <= p50 && p50 <= p90, "{p10} {p50} {p90}");
    assert_eq!(courses, 200);
}

#[test]
fn the_checkpoints_are_the_forecasts_whatever_the_error() {
    let shift = at(JUNE, "7:00");
    let of = |hours| plan(&no_breaks(), JUNE, &morning(shift - TimeDelta::hours(hours)));
    let fresh = of(1);
    // 12 °F in four hours: 10 °F are reached after 200 minutes, at 10:20.
    assert_eq!(tests(&fresh), ["start 07:00", "change-1 10:20"]);
    for hours in [-2, 12, 100, 300] {
        assert_eq!(tests(&of(hours)), tests(&fresh), "{hours} h ahead");
    }
    let sureness = |plan: &DayPlan| checkpoint(plan, "change-1").likelihood.unwrap();
    assert!(sureness(&of(200)) != sureness(&fresh), "the error grows with the lead");
    // Beyond the error model's sixteen days there is a plan without a word on how sure it is.
    let far = of(400);
    assert_eq!(tests(&far), tests(&fresh));
    assert!(far.summary.tests.is_none() && far.stand_by.is_empty());
    assert!(far.checkpoints.iter().all(|point| point.likelihood.is_none()));
}

/// Members that warm by these many °F from ten to three.
fn members(changes: &[f64]) -> Vec<Vec<(DateTime<Utc>, Temperature)>> {
    let member = |change: f64| {
        (7..=16).map(move |hour| {
            let share = ((hour - 10) as f64 / 5.0).clamp(0.0, 1.0);
            let air = Temperature::from_fahrenheit(60.0 + change * share);
            (at(JUNE, "0:00") + TimeDelta::hours(hour), air)
        })
    };
    changes.iter().map(|&change| member(change).collect()).collect()
}

#[test]
fn five_members_and_more_take_the_error_models_place() {
    let site = two_points(&[("rules.standby_pct", "1")]);
    let with = |changes: &[f64]| plan(&site, JUNE, &ramp(9.0).with_members(members(changes)));
    // Three of five reach 10 °F, one of them downwards.
    let five = with(&[8.0, 9.0, 10.0, 11.0, -12.0]);
    assert!((percent(&five) - 60.0).abs() < 1e-9);
    let count = five.summary.tests.unwrap();
    assert_eq!((count.courses, count.from_ensemble), (5, true));
    assert_eq!((count.p10, count.p50, count.p90), (1, 2, 2));
    let four = with(&[8.0, 9.0, 10.0, 11.0]);
    let count = four.summary.tests.unwrap();
    assert_eq!((count.courses, count.from_ensemble), (200, false));
    // A member with a gap in the shift is no member.
    let mut gappy = members(&[8.0, 9.0, 10.0, 11.0, 12.0]);
    gappy[4].retain(|(time, _)| *time < at(JUNE, "12:00"));
    let plan = plan(&site, JUNE, &ramp(9.0).with_members(gappy));
    assert_eq!(plan.summary.tests.unwrap().courses, 200);
    // The plan itself stays the forecast's.
    assert_eq!(tests(&five), ["start 10:00"]);
}
