//! What to see to: each piece of advice exactly when its condition holds, in the stated order.

use fairseam::plan::{Advice, DayPlan, HeatSchedule};
use fairseam::units::Temperature;
use fairseam::weather::{Forecast, Hour};

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{
    DECEMBER, JUNE, at, clock, fahrenheit, forecast, inches, mph, plan, site,
};

/// A word for each kind, without its numbers.
fn kind(advice: &Advice) -> &'static str {
    match advice {
        Advice::Stale => "stale",
        Advice::Lightning { .. } => "lightning",
        Advice::StormWind { .. } => "storm",
        Advice::Seal { .. } => "seal",
        Advice::Open(_) => "open",
        Advice::Dusk { .. } => "dusk",
        Advice::Wet => "wet",
        Advice::Dew => "dew",
        Advice::Ice => "ice",
        Advice::Heat { .. } => "heat",
        Advice::Cold { .. } => "cold",
        Advice::Shield => "shield",
        Advice::Gust => "gust",
        Advice::GeneratorShort { .. } => "generator-short",
        Advice::GeneratorSmall { .. } => "generator-small",
        Advice::GeneratorShared => "generator-shared",
        Advice::CordDrop { .. } => "cord",
    }
}

fn kinds(plan: &DayPlan) -> Vec<&'static str> {
    plan.advice.iter().map(kind).collect()
}

/// What is made of an hour.
type Change = fn(&mut Hour);

/// The advice of a June day with `change` made in the hour from ten to eleven.
fn at_ten(change: impl Fn(&mut Hour)) -> DayPlan {
    let weather = forecast(JUNE, |hour, row| {
        if hour == 10 {
            change(row);
        }
    });
    plan(&site(&[]), JUNE, &weather)
}

#[test]
fn a_quiet_day_needs_none() {
    assert_eq!(kinds(&plan(&site(&[]), JUNE, &forecast(JUNE, |_, _| {}))), [""; 0]);
}

#[test]
fn one_condition_one_advice() {
    let cases: &[(&[&str], Change)] = &[
        (&["lightning"], |hour| hour.thunder_named = Some(true)),
        (&["lightning"], |hour| hour.thunder_probability_pct = Some(30.0)),
        (&[], |hour| hour.thunder_probability_pct = Some(29.0)),
        (&["storm"], |hour| hour.gust = mph(40.0)),
        (&["gust"], |hour| hour.gust = mph(25.0)),
        (&["shield"], |hour| hour.wind = mph(20.0)),
        (&[], |hour| (hour.gust, hour.wind) = (mph(24.0), mph(19.0))),
        (&["cold"], |hour| (hour.air, hour.dew_point) = (fahrenheit(39.0), fahrenheit(0.0))),
        (&[], |hour| (hour.air, hour.dew_point) = (fahrenheit(40.0), fahrenheit(0.0))),
        // Rain: seal before it, nothing wet, and the wet sheet after it.
        (&["seal", "open", "wet", "dew"], |hour| hour.rain = inches(0.01)),
        (&["seal", "open", "wet"], |hour| hour.snow = inches(0.1)),
        (&[], |hour| hour.snow = inches(0.09)),
    ];
    for (expected, change) in cases {
        assert_eq!(kinds(&at_ten(change)), *expected);
    }
}

#[test]
fn everything_at_once_comes_in_the_order_in_which_it_matters() {
    // A day that no sky ever made, from before dawn to after dusk in December.
    let mut weather: Forecast = forecast(DECEMBER, |hour, row| match hour {
        // A night of rime, melted by a morning of sun.
        ..=7 => {
            row.air = Some(Temperature::from_celsius(-4.0));
            row.dew_point = Some(Temperature::from_celsius(-4.5));
            (row.cloud_cover_pct, row.wind) = (Some(0.0), mph(2.0));
        }
        12 => (row.air, row.dew_point) = (fahrenheit(97.0), fahrenheit(75.0)),
        13 => row.thunder_named = Some(true),
        14 => (row.gust, row.wind) = (mph(45.0), mph(30.0)),
        15 => row.gust = mph(30.0),
        16 => row.wind = mph(22.0),
        17 => row.rain = inches(0.1),
        _ => {}
    });
    weather.provenance.stale = true;
    let text: &[(&str, &str)] = &[
        ("shift.start", "\"06:00\""),
        ("shift.end", "\"19:00\""),
        ("power.dedicated", "false"),
        ("power.generator_watts", "5000"),
        ("power.cord_gauge_awg", "14"),
    ];
    let expected = [
        "stale",
        "lightning",
        "storm",
        "ice",
        "heat",
        "seal",
        "open",
        "dusk",
        "wet",
        "dew",
        "cold",
        "gust",
        "shield",
        "generator-shared",
        "generator-short",
        "cord",
    ];
    assert_eq!(kinds(&plan(&site(text), DECEMBER, &weather)), expected);
}

#[test]
fn dusk_within_the_shift_and_not_dawn() {
    let weather = forecast(DECEMBER, |_, _| {});
    let of = |start: &str, end: &str| {
        let (start, end) = (format!("\"{start}\""), format!("\"{end}\""));
        let overrides = [("shift.start", &*start), ("shift.end", &*end), ("shift.breaks", "[]")];
        plan(&site(&overrides), DECEMBER, &weather)
    };
    // pvlib 0.16.1's SPA: 6° below the horizon at 06:34:00 and 17:00:00 EST. Looked for every 5 minutes.
    let evening = of("06:00", "18:00");
    let [Advice::Dusk { dark_from }] = evening.advice[..] else { panic!("{:?}", evening.advice) };
    let mut proof = Proof::of(
        "sun/dark-from",
        "From when on it is dark, as a plan says it; minutes after the end of civil twilight",
        "pvlib 0.16.1, SPA; the plan looks every 5 minutes",
        "evening",
        Allowed::Range("0 to 5"),
    );
    let late = (dark_from - at(DECEMBER, "17:00")).num_seconds() as f64 / 60.0;
    proof.inside(late, 0.0..=5.0, || dark_from.to_string());
    proof.done();
    assert_eq!(kinds(&of("06:00", "16:59")), [""; 0]);
    // A night shift that begins in the dark has no dusk to seal before.
    assert_eq!(kinds(&of("18:00", "23:00")), [""; 0]);
}

#[test]
fn heat_with_the_public_schedule() {
    let heat_under = |cloud: f64, air: f64, humidity: f64| {
        let weather = forecast(JUNE, |_, row| {
            (row.air, row.dew_point, row.humidity_pct) = (fahrenheit(air), None, Some(humidity));
            row.cloud_cover_pct = Some(cloud);
        });
        let plan = plan(&site(&[]), JUNE, &weather);
        plan.advice.iter().find_map(|advice| match advice {
            Advice::Heat { index, schedule, test_after_minutes } => {
                Some((index.fahrenheit(), *schedule, *test_after_minutes))
            }
            _ => None,
        })
    };
    let heat = |air, humidity| heat_under(0.0, air, humidity);
    let mut felt = Proof::of(
        "people/advice-heat",
        "Felt heat as the advice of a plan tells it",
        "the National Weather Service's heat index chart; whole degrees",
        "cells",
        Allowed::absolute(0.51, "°F"),
    );
    let mut schedules = Proof::of(
        "people/advice-work-rest",
        "Minutes of work and rest as the advice of a plan tells them, under three skies",
        "NIOSHworkrest, with NIOSHadjust by hand",
        "schedules",
        Allowed::Nothing,
    );
    // NWS chart: 90 °F and 50 % feel like 95 °F. NIOSH's schedule for moderate work: 90 + 13 for full
    // sun + 6 for 50 % = 109 °F is beyond its last line of 107 °F, where it gives no hours.
    let (index, schedule, test_after) = heat(90.0, 50.0).unwrap();
    felt.near(index, 95.0, || "90 °F, 50 %".to_owned());
    schedules.same(&(schedule, test_after), &(HeatSchedule::Beyond, 10), || "109 °F".to_owned());
    // 90 °F and 40 % feel like 91 °F; 90 + 13 + 3 = 106 °F: 20 minutes of work, 40 of rest.
    let (index, schedule, _) = heat(90.0, 40.0).unwrap();
    felt.near(index, 91.0, || "90 °F, 40 %".to_owned());
    let rest = HeatSchedule::Rest { work_minutes: 20, rest_minutes: 40 };
    schedules.same(&schedule, &rest, || "106 °F".to_owned());
    // Under half a sky of cloud 7 °F are added for the sun: 90 + 7 + 6 = 103 °F, 30 and 30; under a
    // whole sky none: 96 °F, below the schedule's first line of 100 °F.
    let half = HeatSchedule::Rest { work_minutes: 30, rest_minutes: 30 };
    schedules.same(&heat_under(50.0, 90.0, 50.0).unwrap().1, &half, || "103 °F".to_owned());
    let usual = heat_under(100.0, 90.0, 50.0).unwrap().1;
    schedules.same(&usual, &HeatSchedule::Usual, || "96 °F".to_owned());
    felt.done();
    schedules.done();
    // 88 °F and 40 % feel like 88 °F: below 90 °F there is nothing to say.
    assert_eq!(heat(88.0, 40.0), None);
}

#[test]
fn cold_tells_the_wind_chill_of_the_chart() {
    let mut proof = Proof::of(
        "people/advice-cold",
        "Wind chill as the advice of a plan tells it",
        "NWSchill, the chart; whole degrees",
        "cells",
        Allowed::absolute(0.51, "°F"),
    );
    // NWS chart: 35 °F in 10 mph feels like 27 °F, 20 °F in 25 mph like 3 °F; whole degrees.
    for (air, wind, felt) in [(35.0, 10.0, 27.0), (20.0, 25.0, 3.0)] {
        let weather = forecast(JUNE, |_, row| {
            (row.air, row.dew_point) = (fahrenheit(air), fahrenheit(air - 30.0));
            (row.wind, row.gust) = (mph(wind), None);
        });
        let plan = plan(&site(&[]), JUNE, &weather);
        let found = plan.advice.iter().find_map(|advice| match advice {
            Advice::Cold { below, wind_chill } => Some((*below, *wind_chill)),
            _ => None,
        });
        let (below, chill) = found.unwrap();
        assert_eq!(below, Temperature::from_fahrenheit(40.0));
        let chill = chill.unwrap().fahrenheit();
        proof.near(chill, felt, || format!("{air} °F in {wind} mph"));
    }
    proof.done();
}

/// The advice on power of a quiet June day with this `[power]`.
fn on_power(overrides: &[(&str, &str)]) -> Vec<Advice> {
    plan(&site(overrides), JUNE, &forecast(JUNE, |_, _| {})).advice
}

#[test]
fn a_cord_by_the_conductor_table() {
    let mut proof = Proof::of(
        "power/advice-cord",
        "Voltage lost in a cord, %, as the advice of a plan tells it",
        "worked by hand with NEC2023, table 8",
        "cords",
        Allowed::Relative(0.01),
    );
    // NEC, chapter 9, table 8, stranded copper at 75 °C, Ω/kft: 10 AWG 1.24, 12 AWG 1.98. The welder
    // of 5200 W at 230 V is a resistance of 230²/5200 = 10.173 Ω. (gauge, feet, drop in %), a drop of
    // more than 3 % being told.
    let cases = [
        ("10", "100", None),        // 0.248 / 10.421 = 2.38 %
        ("10", "126", None),        // 0.3125 / 10.486 = 2.98 %
        ("10", "129", Some(3.05)),  // 0.3199 / 10.493
        ("12", "100", Some(3.747)), // 0.396 / 10.569
        ("10", "200", Some(4.649)), // 0.496 / 10.669
        ("12", "250", Some(8.867)), // 0.99 / 11.163
    ];
    for (gauge, feet, drop) in cases {
        let advice = on_power(&[("power.cord_gauge_awg", gauge), ("power.cord_length", feet)]);
        let found = advice.iter().find_map(|advice| match advice {
            Advice::CordDrop { welder, drop_pct, watts_pct } => {
                Some((welder.clone(), *drop_pct, *watts_pct))
            }
            _ => None,
        });
        let Some(expected) = drop else {
            assert_eq!(found, None, "{gauge} AWG, {feet} ft");
            continue;
        };
        let (welder, drop_pct, watts_pct) = found.unwrap();
        assert_eq!(welder, "automatic 1");
        // Our resistances are within 0.8 % of the table.
        proof.near(drop_pct, expected, || format!("{gauge} AWG, {feet} ft"));
        // What arrives goes with the square of the volts.
        let watts = 100.0 * (1.0 - expected / 100.0).powi(2);
        assert!((watts_pct - watts).abs() < 0.2, "{gauge} AWG, {feet} ft: {watts_pct} %");
    }
    let unknown = on_power(&[("power.cord_length", "")]);
    assert_eq!(unknown, []);
    proof.done();
}

#[test]
fn a_generator_by_its_plate_and_by_what_is_left_of_it() {
    let short = |overrides: &[(&str, &str)]| {
        on_power(overrides).iter().find_map(|advice| match advice {
            Advice::GeneratorShort { available_w, wanted_w } => Some((*available_w, *wanted_w)),
            _ => None,
        })
    };
    // *Common practice*: 10,000 W or more for the automatic welder alone, by the plate.
    assert_eq!(short(&[("power.generator_watts", "10000")]), None);
    let small = on_power(&[("power.generator_watts", "9000")]);
    let [Advice::GeneratorSmall { rated_w, wanted_w }] = small.as_slice() else {
        panic!("{small:?}");
    };
    let mut proof = Proof::of(
        "power/advice-generator",
        "Power that a generator has and a welder asks for, as the advice of a plan tells them",
        "*common practice*, worked by hand",
        "numbers",
        Allowed::absolute(1.0, "W"),
    );
    proof.near(*rated_w, 9000.0, || "rated".to_owned());
    proof.near(*wanted_w, 10_000.0, || "wanted alone".to_owned());
    // 3.5 % for each 1000 ft and nothing for 68 °F: at 5000 ft 82.5 %.
    let high = [("elevation", "5000"), ("power.generator_watts", "12000")];
    assert_eq!(short(&high), None, "9900 W are left, the welder takes 5200");
    // 12,000 W at 5000 ft leave 9900 W for a welder of 10,500 W.
    let (left, wanted) = short(&[high[0], high[1], ("welders.rated_watts", "10500")]).unwrap();
    proof.near(left, 9900.0, || "left at 5000 ft".to_owned());
    proof.near(wanted, 10_500.0, || "wanted at 5000 ft".to_owned());
    proof.done();
    assert_eq!(short(&[("power.generator_watts", "")]), None);
}

#[test]
fn a_shared_generator_is_told_and_a_stale_forecast_comes_first() {
    let shared = on_power(&[("power.dedicated", "false")]);
    assert_eq!(shared, [Advice::GeneratorShared]);
    assert_eq!(on_power(&[("power.dedicated", "")]), []);
    let mut weather = forecast(JUNE, |_, row| row.thunder_named = Some(true));
    weather.provenance.stale = true;
    assert_eq!(kinds(&plan(&site(&[]), JUNE, &weather)), ["stale", "lightning"]);
}

#[test]
fn near_dew_is_told_without_a_drop_on_the_sheet() {
    let weather = forecast(JUNE, |_, row| {
        row.cloud_cover_pct = Some(100.0);
        row.dew_point = Some(Temperature::from_celsius(18.0));
    });
    let plan = plan(&site(&[]), JUNE, &weather);
    assert_eq!(kinds(&plan), ["dew"]);
    assert_eq!(clock(&plan, plan.spans[0].start), "07:00");
}
