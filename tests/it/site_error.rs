//! How far the forecast is off at a site: by hand, and on made-up sites whose truth is known.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use fairseam::plan::{DayPlan, Note, PlanInput, plan_day};
use fairseam::site::{Site, Welder};
use fairseam::testweld::{
    AmbientPair, Carry, DAYS_TO_EARN, EarlierWindows, SiteError, WhyFullRange, forecast_errors,
    site_error,
};
use fairseam::units::{Temperature, TemperatureDifference};
use fairseam::weather::Forecast;

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{JUNE, at, fahrenheit, forecast, site, tests};
use crate::testweld_learning::Dice;

fn day(number: usize) -> NaiveDate {
    let first = NaiveDate::from_ymd_opt(2013, 4, 1).unwrap();
    first + TimeDelta::days(i64::try_from(number).unwrap())
}

/// Read `off` K above a forecast of 10 °C, `hours` ahead.
fn pair(number: usize, hours: f64, off: f64) -> AmbientPair {
    AmbientPair {
        day: day(number),
        lead: TimeDelta::seconds((hours * 3600.0) as i64),
        forecast: Temperature::from_celsius(10.0),
        read: Temperature::from_celsius(10.0) + TemperatureDifference::from_kelvin(off),
    }
}

#[test]
fn what_was_found_by_lead_time() {
    let zero = |number, hours, read| AmbientPair {
        forecast: Temperature::from_celsius(0.0),
        read: Temperature::from_celsius(read),
        ..pair(number, hours, 0.0)
    };
    let pairs = [
        pair(1, 3.0, 1.0),
        pair(2, 5.99, 3.0),
        pair(2, 6.0, -1.0),
        zero(3, 30.0, 10_000_001.0),
        zero(4, 31.0, 10_000_003.0),
        zero(5, 32.0, 10_000_002.0),
        pair(6, 200.0, f64::NAN),
        pair(6, -1.0, 25.0),
    ];
    let told: Vec<_> = forecast_errors(&pairs)
        .iter()
        .map(|error| {
            let spread = error.spread.map(TemperatureDifference::kelvin);
            let lead = (error.lead.from_hours, error.lead.to_hours);
            (lead, error.readings, error.days, error.bias.kelvin(), spread)
        })
        .collect();
    assert_eq!(told.len(), 3);
    // By hand: 1 and 3 K off, so 2 ± √2.
    assert_eq!(told[0], ((0, Some(6)), 2, 2, 2.0, Some(2.0_f64.sqrt())));
    assert_eq!(told[1], ((6, Some(12)), 1, 1, -1.0, None));
    // NistStrd, dataset NumAcc1: mean 10000002, standard deviation 1, certified exactly.
    let mut proof = Proof::of(
        "learn/mean-and-spread",
        "Mean and standard deviation of a forecast's errors",
        "NistStrd, dataset NumAcc1, certified; from memory",
        "dataset",
        Allowed::Nothing,
    );
    let certified = ((24, Some(48)), 3, 3, 10_000_002.0, Some(1.0));
    proof.same(&told[2], &certified, || "NumAcc1".to_owned());
    proof.done();
}

#[test]
fn a_day_counts_once_however_often_it_was_read() {
    // By hand: day means 3 and 1, so 2; squares around it 1 and (1 + 1 + 1)/3 = 1, so √2.
    let pairs = [pair(1, 1.0, 3.0), pair(2, 1.0, 1.0), pair(2, 2.0, 1.0), pair(2, 3.0, 1.0)];
    let [found] = forecast_errors(&pairs)[..] else { panic!() };
    assert_eq!((found.readings, found.days), (4, 2));
    let mut proof = Proof::of(
        "learn/site-days",
        "Bias and spread of a site's forecasts where a day was read more than once",
        "worked by hand",
        "values",
        Allowed::absolute(1e-12, "K"),
    );
    proof.near(found.bias.kelvin(), 2.0, || "bias".to_owned());
    proof.near(found.spread.unwrap().kelvin(), 2.0_f64.sqrt(), || "spread".to_owned());
    proof.done();
}

fn two_kelvin_low(days: usize) -> Vec<AmbientPair> {
    (0..days).map(|number| pair(number, 0.0, 2.0)).collect()
}

fn now(pairs: &[AmbientPair]) -> Option<SiteError> {
    site_error(pairs, TimeDelta::hours(2))
}

#[test]
fn what_is_expected_is_drawn_towards_the_default() {
    assert_eq!(now(&two_kelvin_low(DAYS_TO_EARN - 1)), None);
    // By hand, eight days of 2 K, four days' weight of 0 ± 2.5 °F, so 1.929 K²: bias 8·2/12;
    // scale² (4·1.9290 + 0 + 4·8/12·2²)/12 = 1.5319, of the next day 1.5319·13/12 = 1.6596;
    // √(1.6596/1.9290) = 0.92753.
    let eight = now(&two_kelvin_low(8)).unwrap();
    let mut proof = Proof::of(
        "learn/site-error",
        "Bias and spread to expect at a site after eight days of readings",
        "Gelman2013, worked by hand",
        "values",
        Allowed::Each("the last digit worked"),
    );
    proof.within(eight.bias.kelvin(), 4.0 / 3.0, 1e-12, || "bias".to_owned());
    proof.within(eight.spread_ratio, 0.92753, 1e-5, || "ratio".to_owned());
    let spread = eight.spread(0.0).unwrap().fahrenheit();
    proof.within(spread, 2.5 * 0.92753, 1e-4, || "spread".to_owned());
    proof.done();
    assert_eq!((eight.found.days, eight.found.bias.kelvin()), (8, 2.0));
    // With more days less of the default is left, to the newest sixty at most.
    let sixty = now(&two_kelvin_low(60)).unwrap();
    assert!((sixty.bias.kelvin() - 60.0 * 2.0 / 64.0).abs() < 1e-12);
    assert_eq!(now(&two_kelvin_low(100)).unwrap().found.days, 60);
}

#[test]
fn other_leads_slips_and_the_order_of_readings_change_nothing() {
    let mut pairs = two_kelvin_low(9);
    let clean = now(&pairs);
    // A day ahead, 80 for 8, a thermometer in the sun, no number at all.
    pairs.extend([pair(20, 30.0, -3.0), pair(21, 1.0, 40.0), pair(22, 1.0, 10.1)]);
    pairs.push(pair(23, 1.0, f64::NAN));
    pairs.reverse();
    assert_eq!(now(&pairs), clean);
    assert_eq!(site_error(&pairs, TimeDelta::hours(30)), None);
    // Half a second before the issue is at once; ten minutes before it nothing was forecast.
    let at_once = [
        pair(30, 0.0, 2.0),
        AmbientPair { lead: TimeDelta::milliseconds(-500), ..pair(31, 0.0, 2.0) },
    ];
    let known = [&two_kelvin_low(6)[..], &at_once].concat();
    assert_eq!(now(&known).unwrap().found.days, 8);
    let afterwards = AmbientPair { lead: TimeDelta::minutes(-10), ..pair(32, 0.0, 2.0) };
    assert_eq!(now(&[&known[..], &[afterwards]].concat()).unwrap().found.days, 8);
    // A forecast issued after the shift began counts as fresh.
    assert_eq!(site_error(&pairs, TimeDelta::hours(-3)), clean);
}

/// A book without heat windows.
struct Readings(Vec<AmbientPair>);

impl EarlierWindows for Readings {
    fn carry(&self, _: &Welder, _: DateTime<Utc>) -> Carry {
        Carry::FullRange(WhyFullRange::NoRecord { carry_days: 7 })
    }

    fn ambient_pairs(&self, _: DateTime<Utc>) -> Vec<AmbientPair> {
        self.0.clone()
    }
}

/// Hours from the issue of the forecast to the shift.
const LEAD: f64 = 14.0;

/// One minute of work at ten and one at three: a test falls due where the air's change between the
/// two reaches 10 °F.
fn two_points() -> Site {
    site(&[
        ("shift.start", "\"10:00\""),
        ("shift.end", "\"15:01\""),
        ("shift.breaks", "[ { name = \"stop\", start = \"10:01\", minutes = 299 } ]"),
        ("rules.break_needs_test_minutes", "720"),
        ("rules.last_test_before_end_minutes", "0"),
        ("rules.max_hours_between", "24"),
        ("rules.standby_pct", "1"),
    ])
}

/// 60 °F until ten, `change` °F more at three; no cloud, so that nothing but the air is known.
fn ramp(change: f64) -> Forecast {
    let mut forecast = forecast(JUNE, move |hour, row| {
        let share = ((hour - 10) as f64 / 5.0).clamp(0.0, 1.0);
        row.air = fahrenheit(60.0 + change * share);
        row.cloud_cover_pct = None;
    });
    forecast.provenance.issued_at = Some(at(JUNE, "10:00") - TimeDelta::hours(14));
    forecast
}

fn plan(site: &Site, forecast: &Forecast, readings: &Readings) -> DayPlan {
    plan_day(&PlanInput {
        site,
        time_zone: site.time_zone.unwrap(),
        date: JUNE.parse().unwrap(),
        now: forecast.provenance.fetched_at,
        forecast,
        earlier: readings,
    })
    .unwrap()
}

/// The chance, 0 to 1, that the plan gives the change of the day.
fn chance(plan: &DayPlan) -> f64 {
    let planned = plan.checkpoints.iter().filter_map(|point| point.likelihood);
    let all = planned.chain(plan.stand_by.iter().map(|test| test.likelihood));
    all.map(|likelihood| likelihood.percent / 100.0).sum()
}

/// A site at which the forecast is low by `bias` and wrong by `ratio` times the default, °F.
#[derive(Clone, Copy)]
struct Truth {
    bias: f64,
    ratio: f64,
}

impl Truth {
    /// Errors at ten and at three of one day, °F: normal, correlated by exp(−5 h / 10 h), the
    /// default spread of docs/physics-people-power.md.
    fn errors(self, dice: &mut Dice) -> [f64; 2] {
        let spread = |lead: f64| self.ratio * (2.5_f64.powi(2) + (0.035 * lead).powi(2)).sqrt();
        let kept = (-0.5_f64).exp();
        let first = dice.normal();
        let second = kept * first + (1.0 - kept * kept).sqrt() * dice.normal();
        [self.bias + spread(LEAD) * first, self.bias + spread(LEAD + 5.0) * second]
    }

    /// What a crew has read at ten and at three of so many days.
    fn readings(self, days: usize, dice: &mut Dice) -> Readings {
        let of_day = |number| {
            let errors = self.errors(dice);
            let pair = |hours, off: f64| pair(number, hours, off / 1.8);
            [pair(LEAD, errors[0]), pair(LEAD + 5.0, errors[1])]
        };
        Readings((0..days).flat_map(of_day).collect())
    }
}

/// Forecast changes of the air, °F, around the limit of 10.
const CHANGES: [f64; 6] = [5.0, 7.0, 9.0, 11.0, 13.0, 15.0];

/// How the chances of plans made with `readings` do on days of `truth`: the Brier score to expect
/// (Brier1950), and the mean gap between the chance and how often it comes.
fn score(truth: Truth, readings: &[Readings]) -> (f64, f64) {
    let (site, days) = (two_points(), 20_000);
    let (mut brier, mut gap) = (0.0, 0.0);
    for change in CHANGES {
        let (weather, mut dice) = (ramp(change), Dice(7));
        let due = |[ten, three]: [f64; 2]| (change + three - ten).abs() >= 10.0;
        let came = (0..days).filter(|_| due(truth.errors(&mut dice))).count();
        let share = came as f64 / f64::from(days);
        for readings in readings {
            let off = chance(&plan(&site, &weather, readings)) - share;
            brier += off.powi(2) + share * (1.0 - share);
            gap += off.abs();
        }
    }
    let plans = (CHANGES.len() * readings.len()) as f64;
    (brier / plans, gap / plans)
}

fn crews(truth: Truth, days: usize, crews: u64) -> Vec<Readings> {
    (0..crews).map(|crew| truth.readings(days, &mut Dice(100 + crew))).collect()
}

#[test]
fn the_chances_are_truer_where_the_site_is_not_as_the_default() {
    for (ratio, gain) in [(0.4, 0.9), (2.0, 0.97)] {
        let truth = Truth { bias: 2.0, ratio };
        let (default, default_gap) = score(truth, &[Readings(Vec::new())]);
        let (known, known_gap) = score(truth, &crews(truth, 30, 6));
        assert!(known < gain * default, "ratio {ratio}: Brier {known}, by default {default}");
        assert!(known_gap < 0.5 * default_gap, "ratio {ratio}: {known_gap}, {default_gap}");
    }
}

#[test]
fn little_is_lost_where_the_site_is_as_the_default() {
    // Eight days are the fewest that count.
    let truth = Truth { bias: 0.0, ratio: 1.0 };
    let (default, _) = score(truth, &[Readings(Vec::new())]);
    for days in [8, 30] {
        let (known, _) = score(truth, &crews(truth, days, 6));
        assert!(known < 1.01 * default, "{days} days: Brier {known}, by default {default}");
    }
}

#[test]
fn too_few_readings_change_nothing_and_enough_move_no_test() {
    let (site, weather, truth) = (two_points(), ramp(11.0), Truth { bias: 2.0, ratio: 0.4 });
    let without = plan(&site, &weather, &Readings(Vec::new()));
    let few = plan(&site, &weather, &truth.readings(DAYS_TO_EARN - 1, &mut Dice(3)));
    assert_eq!(few, without);
    let enough = plan(&site, &weather, &truth.readings(20, &mut Dice(3)));
    assert_eq!(tests(&enough), tests(&without));
    assert_eq!(enough.summary.air_max, without.summary.air_max);
    assert!(chance(&enough) > chance(&without), "{} {}", chance(&enough), chance(&without));
    let known = enough.weather.known_error.unwrap();
    assert!(known.in_likelihoods);
    assert!(known.spread.kelvin() < known.default_spread.kelvin());
    assert!((known.site.bias.fahrenheit() - 2.0).abs() < 1.0, "{:?}", known.site.bias);
    assert!(enough.notes.contains(&Note::ForecastOff(known)));
}

#[test]
fn the_members_of_an_ensemble_stay_as_they_are_and_the_note_says_so() {
    let (site, truth) = (two_points(), Truth { bias: 2.0, ratio: 0.4 });
    let member = |change: f64| {
        (7..=16).map(move |hour| {
            let share = ((hour - 10) as f64 / 5.0).clamp(0.0, 1.0);
            let air = Temperature::from_fahrenheit(60.0 + change * share);
            (at(JUNE, "0:00") + TimeDelta::hours(hour), air)
        })
    };
    let members = [8.0, 9.0, 10.0, 11.0, 12.0].map(|change| member(change).collect()).to_vec();
    let weather = ramp(9.0).with_members(members);
    let plan = plan(&site, &weather, &truth.readings(20, &mut Dice(3)));
    assert!((chance(&plan) - 0.6).abs() < 1e-9, "three of five, whatever the book says");
    let known = plan.weather.known_error.unwrap();
    assert!(!known.in_likelihoods);
    let note = fairseam::render::words::note(&Note::ForecastOff(known), &plan);
    assert!(note.contains("goes by the forecast's own ensemble"), "{note}");
    assert!(note.contains("40 readings on 20 days put a forecast of 12 to 24 h ahead"), "{note}");
}
