//! The explanation of every minute against the plan: they must never differ.

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::plan::{
    Cause, DayPlan, Explainer, Explanation, Origin, PlanInput, Reading, Stage, Verdict, plan_day,
};
use fairseam::site::{self, Site};
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::sources::{neutral_csv, open_meteo};
use fairseam::weather::{Forecast, Hour, HourSum};
use proptest::prelude::*;

use super::{input, provenance, site as example, utc};

/// What was met, so that a check of nothing does not pass.
#[derive(Debug, Default)]
struct Met {
    minutes: usize,
    not_weld: usize,
    tests: usize,
    waiting: usize,
}

fn assert_agrees(input: &PlanInput<'_>, met: &mut Met) {
    let plan = plan_day(input).unwrap();
    let explainer = Explainer::new(input, Some(&plan));
    let minutes = (plan.shift.end - plan.shift.start).num_minutes();
    for minute in 0..minutes {
        let at = plan.shift.start + TimeDelta::minutes(minute);
        // Any second of a minute is that minute.
        let explanation = explainer.at(at + TimeDelta::seconds(minute % 60)).unwrap();
        assert_eq!(explanation.time, at);
        agrees_with_span(&plan, &explanation);
        agrees_with_tests(&plan, &explanation);
        agrees_with_forecast(input.forecast, &explanation);
        met.minutes += 1;
        met.not_weld += usize::from(explanation.verdict != Verdict::Weld);
        met.waiting += usize::from(explanation.since.is_some_and(|since| since.waits));
    }
    met.tests += plan.checkpoints.len();
}

fn agrees_with_span(plan: &DayPlan, explanation: &Explanation) {
    let at = explanation.time;
    let span = plan.spans.iter().find(|span| span.start <= at && at < span.end).unwrap();
    assert_eq!(explanation.verdict, span.verdict, "{at}");
    let fired = explanation.rules.iter().filter(|check| check.fires());
    let fired: Vec<_> = fired.map(|check| std::mem::discriminant(&check.reason.unwrap())).collect();
    let reasons: Vec<_> = span.reasons.iter().map(std::mem::discriminant).collect();
    assert_eq!(fired, reasons, "{at}: {:?}", span.reasons);
    assert_eq!(explanation.stage == Stage::Hold, span.verdict == Verdict::Hold, "{at}");
}

fn agrees_with_tests(plan: &DayPlan, explanation: &Explanation) {
    let at = explanation.time;
    let planned = plan.checkpoints.iter().find(|point| point.time == at);
    let here = explanation.test_here.as_ref();
    assert_eq!(here.map(|test| &test.id), planned.map(|point| &point.id), "{at}");
    let Some(since) = &explanation.since else {
        assert!(plan.checkpoints.iter().all(|point| point.time >= at), "{at}");
        return;
    };
    if explanation.stage == Stage::Work && since.is_due() && !since.too_late {
        assert!(here.is_some(), "{at}: {since:?} asks for a test that the plan has not");
    }
    match here.map(|test| &test.cause) {
        Some(Cause::AmbientChange) => assert!(since.air_due && !since.waits, "{at}: {since:?}"),
        Some(Cause::SheetChange) => {
            assert!(since.center_due && !since.air_due && !since.waits, "{at}: {since:?}");
        }
        Some(Cause::Elapsed { .. }) => assert!(since.elapsed_due, "{at}: {since:?}"),
        _ => {}
    }
    if let Some(point) = planned {
        assert_eq!(point.change_since_last, Some(since.air_change), "{at}");
        assert_eq!(point.center_shift, since.center_shift, "{at}");
        assert_eq!(point.last_time, Some(since.time), "{at}");
    }
}

/// The value of a reading is what its origin says it is.
fn agrees_with_forecast(forecast: &Forecast, explanation: &Explanation) {
    let (weather, at) = (&explanation.weather, explanation.time);
    follows(at, &weather.air, Temperature::celsius, forecast, |hour| {
        hour.air.map(Temperature::celsius)
    });
    follows(at, &weather.dew_point, Temperature::celsius, forecast, |hour| {
        hour.dew_point.map(Temperature::celsius)
    });
    follows(at, &weather.wind, WindSpeed::meters_per_second, forecast, |hour| {
        hour.wind.map(WindSpeed::meters_per_second)
    });
    let number = |value: f64| value;
    follows(at, &weather.humidity_pct, number, forecast, |hour| hour.humidity_pct);
    follows(at, &weather.cloud_cover_pct, number, forecast, |hour| hour.cloud_cover_pct);
}

fn follows<T: Copy>(
    at: DateTime<Utc>,
    reading: &Reading<T>,
    number: impl Fn(T) -> f64,
    forecast: &Forecast,
    field: impl Fn(&Hour) -> Option<f64>,
) {
    let told = |time: DateTime<Utc>| forecast.hour_of(time).and_then(&field);
    let value = reading.value.map(&number);
    match reading.origin {
        Origin::Told => assert_eq!(value, told(at), "{at}"),
        Origin::Between { before, after, bridged } => {
            assert_eq!(told(before.0), Some(number(before.1)), "{at}");
            assert_eq!(told(after.0), Some(number(after.1)), "{at}");
            assert_eq!((after.0 - before.0).num_hours(), if bridged { 2 } else { 1 }, "{at}");
            let part =
                (at - before.0).num_seconds() as f64 / (after.0 - before.0).num_seconds() as f64;
            let expected = number(before.1) + (number(after.1) - number(before.1)) * part;
            assert!((value.unwrap() - expected).abs() < 1e-9, "{at}");
        }
        Origin::Derived(_) => assert!(value.is_some(), "{at}"),
        Origin::Unknown => assert_eq!(value, None, "{at}"),
    }
}

#[test]
fn real_days_without_cloud_agree_minute_by_minute() {
    // Newark, 2013: a fast spring morning, rain at midday, a cold day, the night of the clock
    // change in spring, the windiest months.
    let record = include_str!("../../fixtures/ewr2013.csv");
    let forecast =
        neutral_csv::parse_forecast(record.as_bytes(), utc("2013-12-31T00:00:00Z")).unwrap();
    let day = example(&[]);
    let night = example(&[
        ("shift.start", "\"22:00\""),
        ("shift.end", "\"04:30\""),
        ("shift.breaks", "[{ name = \"lunch\", start = \"01:00\", minutes = 30 }]"),
    ]);
    let mut met = Met::default();
    for (site, date) in
        [(&day, "2013-04-09"), (&day, "2013-09-12"), (&day, "2013-12-28"), (&night, "2013-03-09")]
    {
        assert_agrees(&input(site, &forecast, date), &mut met);
    }
    assert!(met.minutes > 1800 && met.not_weld > 100 && met.tests > 10, "{met:?}");
    assert!(met.waiting > 0, "{met:?}");
}

#[test]
fn the_demo_with_its_sun_and_dew_agrees_minute_by_minute() {
    let body = include_str!("../../../config/demo/forecast.json");
    let forecast =
        open_meteo::parse_forecast(body.as_bytes(), utc("2027-04-20T23:00:00Z")).unwrap();
    let text = include_str!("../../../config/demo/site.toml");
    let site = site::load(text, "site.toml").unwrap().site;
    let mut met = Met::default();
    assert_agrees(&input(&site, &forecast, "2027-04-21"), &mut met);
    assert!(met.minutes == 510 && met.not_weld > 0 && met.tests > 1, "{met:?}");
}

/// One hour of any weather: each value there or not.
fn any_hour() -> impl Strategy<Value = Hour> {
    let some = |range: std::ops::Range<f64>| proptest::option::weighted(0.85, range);
    let falls = proptest::option::weighted(0.9, (0.0_f64..0.4, 1_u32..7));
    let light = (some(0.0..100.0), proptest::option::weighted(0.3, 0.0_f64..900.0));
    let air = (some(-12.0..38.0), some(-15.0..25.0), some(0.0..100.0));
    let thunder = (
        proptest::option::weighted(0.5, 0.0_f64..40.0),
        proptest::option::weighted(0.3, proptest::bool::weighted(0.1)),
    );
    (air, (some(0.0..16.0), some(0.0..24.0)), light, (falls.clone(), falls), thunder).prop_map(
        |((air, dew, humidity), (wind, gust), (cloud, shortwave), (rain, snow), thunder)| {
            let sum = |(share, hours): (f64, u32)| {
                // Nothing falls in most hours.
                let fallen = RainDepth::from_millimeters((share - 0.3).max(0.0) * 10.0);
                HourSum::share_of(fallen, hours)
            };
            Hour {
                air: air.map(Temperature::from_celsius),
                dew_point: dew.map(Temperature::from_celsius),
                humidity_pct: humidity,
                wind: wind.map(WindSpeed::from_meters_per_second),
                gust: gust.map(WindSpeed::from_meters_per_second),
                cloud_cover_pct: cloud,
                shortwave_w_m2: shortwave,
                rain: rain.map(sum),
                snow: snow.map(sum),
                thunder_probability_pct: thunder.0,
                thunder_named: thunder.1,
                ..Hour::unknown(utc("2013-04-08T20:00:00Z"))
            }
        },
    )
}

/// 26 hours around the example's shift, which air covers with single gaps at most.
fn any_forecast() -> impl Strategy<Value = Forecast> {
    proptest::collection::vec(any_hour(), 26).prop_map(|mut hours| {
        for (n, hour) in (0_u32..).zip(&mut hours) {
            hour.time += TimeDelta::hours(i64::from(n));
            if n % 2 == 0 && hour.air.is_none() {
                hour.air = Some(Temperature::from_celsius(f64::from(n)));
            }
        }
        Forecast::from_hours(provenance(), hours).unwrap()
    })
}

fn any_site() -> impl Strategy<Value = Site> {
    (0_usize..4, proptest::bool::ANY, 5_u32..40).prop_map(|(color, aged, merge)| {
        let color = ["white", "gray", "tan", "black"][color];
        example(&[
            ("sheet.color", &format!("\"{color}\"")),
            ("sheet.aged", if aged { "true" } else { "false" }),
            ("rules.merge_within_minutes", &merge.to_string()),
            ("rules.max_hours_between", "2.5"),
        ])
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, ..ProptestConfig::default() })]

    #[test]
    fn any_weather_agrees_minute_by_minute(site in any_site(), forecast in any_forecast()) {
        assert_agrees(&input(&site, &forecast, "2013-04-09"), &mut Met::default());
    }
}
