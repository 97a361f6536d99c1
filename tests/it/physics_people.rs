//! Heat index, wind chill, work and rest, against the public charts and MetPy.

use fairseam::physics::comfort::{
    FULL_SUN_ADDS_UP_TO, HeatBand, Sun, WorkLoad, WorkRest, air_for_work_rest, frostbite_possible,
    heat_index, rothfusz1990, wind_chill, work_rest,
};
use fairseam::units::{Temperature, WindSpeed};

use crate::number_table::rows;
use crate::proof::{Allowed, Proof};

/// °F, %, °F: srh.noaa.gov, heat index chart.
const HEAT_CHART: &str = include_str!("../fixtures/people_power/heat_index_chart.csv");
/// °F, mph, °F: weather.gov, wind chill chart of 2001.
const CHILL_CHART: &str = include_str!("../fixtures/people_power/wind_chill_chart.csv");
/// cdc.gov, heat stress: work/rest schedules.
const SCHEDULE: &str = include_str!("../fixtures/people_power/niosh_work_rest.csv");
const METPY_HEAT: &str = include_str!("../fixtures/reference/heat_index_metpy.csv");
const METPY_CHILL: &str = include_str!("../fixtures/reference/wind_chill_metpy.csv");

fn fahrenheit(degrees: f64) -> Temperature {
    Temperature::from_fahrenheit(degrees)
}

fn heat_index_f(air: f64, humidity_pct: f64) -> f64 {
    heat_index(fahrenheit(air), humidity_pct).unwrap().fahrenheit()
}

fn wind_chill_f(air: f64, mph: f64) -> f64 {
    wind_chill(fahrenheit(air), WindSpeed::from_miles_per_hour(mph)).unwrap().fahrenheit()
}

#[test]
fn heat_index_matches_every_cell_of_the_chart() {
    let cells = rows::<3>(HEAT_CHART);
    assert_eq!(cells.len(), 135);
    let mut as_drawn = Proof::of(
        "people/heat-index-chart",
        "Heat index without adjustments, as the chart was drawn",
        "the National Weather Service's heat index chart",
        "cells",
        Allowed::absolute(0.51, "°F"),
    );
    let mut dry = Proof::of(
        "people/heat-index-chart-shown",
        "Heat index as we show it, outside of humid air below 87 °F",
        "the National Weather Service's heat index chart",
        "cells",
        Allowed::absolute(0.51, "°F"),
    );
    let mut moist = Proof::of(
        "people/heat-index-chart-humid",
        "Heat index as we show it in humid air below 87 °F, with an adjustment that the chart leaves out",
        "the National Weather Service's heat index chart",
        "cells",
        Allowed::Between(-0.51, 2.61, "°F"),
    );
    for [air, humidity, chart] in cells {
        let plain = rothfusz1990(fahrenheit(air), humidity).fahrenheit();
        // Whole degrees are printed; one cell is a hundredth past the half.
        as_drawn.near(plain, chart, || format!("{air} °F {humidity} %"));
        // The chart was drawn without the adjustment for humid air between 80 and 87 °F.
        let humid = humidity > 85.0 && air < 87.0;
        let shown = if humid { &mut moist } else { &mut dry };
        shown.near(heat_index_f(air, humidity), chart, || format!("{air} °F {humidity} %"));
    }
    for proof in [as_drawn, dry, moist] {
        proof.done();
    }
}

#[test]
fn heat_index_matches_the_services_calculator() {
    // (°F, %, °F in whole degrees, where it was read)
    const PUBLISHED: &[(f64, f64, f64, &str)] = &[
        (86.0, 45.0, 87.0, "WPC calculator, quoted in MetPy's test_basic.py"),
        (111.0, 27.0, 121.0, "WPC calculator, quoted in MetPy's test_basic.py"),
        (40.0, 99.0, 40.0, "WPC calculator, quoted in MetPy's test_basic.py"),
        (96.0, 60.0, 116.0, "WPC calculator, quoted in MetPy's test_basic.py"),
    ];
    let mut proof = Proof::of(
        "people/heat-index-calculator",
        "Heat index",
        "WPCheat: its calculator, as MetPy's tests quote it; whole degrees",
        "values",
        Allowed::absolute(0.5, "°F"),
    );
    for &(air, humidity, expected, source) in PUBLISHED {
        proof.near(heat_index_f(air, humidity), expected, || format!("{source}: {air}/{humidity}"));
    }
    proof.done();
}

#[test]
fn heat_index_matches_metpy_but_for_its_dry_adjustment_of_the_simple_form() {
    let mut differing = 0;
    let mut proof = Proof::of(
        "people/heat-index-metpy",
        "Heat index; left out are dry rows where MetPy adjusts the simple form too and ours is higher",
        "MetPy 1.7.1, tests/reference/people_power.py",
        "rows",
        Allowed::absolute(1e-6, "°F"),
    );
    for [air, humidity, expected] in rows::<3>(METPY_HEAT) {
        let got = heat_index_f(air, humidity);
        // MetPy subtracts the dry adjustment even where the simple form was used.
        let simple = 0.5 * (air + 61.0 + 1.2 * (air - 68.0) + 0.094 * humidity);
        if simple < 79.0 && air >= 80.0 && humidity < 13.0 {
            differing += 1;
            assert!(got > expected, "{air} °F {humidity} %");
        } else {
            proof.near(got, expected, || format!("{air} °F {humidity} %"));
        }
    }
    proof.done();
    assert!(differing > 0, "the known difference was not met");
}

#[test]
fn heat_index_at_and_beyond_its_edges() {
    for humidity in [-0.001, 100.001, f64::NAN, f64::INFINITY] {
        assert_eq!(heat_index(fahrenheit(90.0), humidity), None, "{humidity} %");
    }
    assert_eq!(heat_index(Temperature::from_celsius(f64::NAN), 50.0), None);
    assert!(heat_index(fahrenheit(90.0), 0.0).is_some());
    assert!(heat_index(fahrenheit(90.0), 100.0).is_some());
    assert_eq!(heat_index(fahrenheit(40.0), 100.0), Some(fahrenheit(40.0)));
    // WPC's text: 13 % takes no dry adjustment and 85 % no humid one.
    for (air, humidity) in [(95.0, 13.0), (84.0, 85.0)] {
        let plain = rothfusz1990(fahrenheit(air), humidity).fahrenheit();
        assert!((heat_index_f(air, humidity) - plain).abs() < 1e-9, "{air}/{humidity}");
    }
    // By hand from WPC's text: 95 °F, 5 %: (13 − 5)/4 · √(17/17) = 2 off the regression.
    let dry = rothfusz1990(fahrenheit(95.0), 5.0).fahrenheit() - heat_index_f(95.0, 5.0);
    let mut proof = Proof::of(
        "people/heat-index-adjustments",
        "What is added to the heat index in dry and in humid air",
        "WPCheat, by hand",
        "adjustments",
        Allowed::absolute(1e-9, "°F"),
    );
    proof.near(dry, 2.0, || "dry".to_owned());
    // By hand: 82 °F, 95 %: (95 − 85)/10 · (87 − 82)/5 = 1 on top of it.
    let humid = heat_index_f(82.0, 95.0) - rothfusz1990(fahrenheit(82.0), 95.0).fahrenheit();
    proof.near(humid, 1.0, || "humid".to_owned());
    proof.done();
}

#[test]
fn felt_heat_rises_with_air_and_with_humidity() {
    for air in 81..=110 {
        for humidity in 40..100 {
            let here = heat_index_f(f64::from(air), f64::from(humidity));
            let moister = heat_index_f(f64::from(air), f64::from(humidity + 1));
            let hotter = heat_index_f(f64::from(air + 1), f64::from(humidity));
            assert!(moister > here - 1e-9, "{air} °F, {humidity} %");
            assert!(hotter > here, "{air} °F, {humidity} %");
        }
    }
}

#[test]
fn heat_bands_begin_at_their_printed_edges() {
    // weather.gov heat index table: caution 80-90, extreme caution 90-103, danger 103-124,
    // extreme danger from 125 °F.
    const EDGES: &[(f64, Option<HeatBand>)] = &[
        (79.9, None),
        (80.0, Some(HeatBand::Caution)),
        (89.9, Some(HeatBand::Caution)),
        (90.0, Some(HeatBand::ExtremeCaution)),
        (102.9, Some(HeatBand::ExtremeCaution)),
        (103.0, Some(HeatBand::Danger)),
        (124.0, Some(HeatBand::Danger)),
        (125.0, Some(HeatBand::ExtremeDanger)),
        (200.0, Some(HeatBand::ExtremeDanger)),
        (f64::NAN, None),
    ];
    let mut proof = Proof::of(
        "people/heat-bands",
        "Where the bands of heat begin",
        "NWSbands, on both sides of each edge",
        "values",
        Allowed::Nothing,
    );
    for &(degrees, expected) in EDGES {
        proof.same(&HeatBand::of(fahrenheit(degrees)), &expected, || format!("{degrees} °F"));
    }
    proof.done();
    assert!(HeatBand::Danger > HeatBand::Caution);
    // osha.gov, heat exposure: full sun can add up to 15 °F.
    let mut proof = Proof::of(
        "people/full-sun",
        "What full sun can add to the heat index",
        "OSHAheat",
        "value",
        Allowed::absolute(1e-9, "°F"),
    );
    proof.near(FULL_SUN_ADDS_UP_TO.fahrenheit(), 15.0, || "°F".to_owned());
    proof.done();
}

#[test]
fn wind_chill_matches_every_cell_of_the_chart() {
    let cells = rows::<3>(CHILL_CHART);
    assert_eq!(cells.len(), 120);
    let mut proof = Proof::of(
        "people/wind-chill-chart",
        "Wind chill",
        "NWSchill, the chart; whole degrees",
        "cells",
        Allowed::absolute(0.501, "°F"),
    );
    for [air, mph, chart] in cells {
        proof.near(wind_chill_f(air, mph), chart, || format!("{air} °F {mph} mph"));
    }
    proof.done();
}

#[test]
fn wind_chill_matches_metpy_in_its_metric_form() {
    let mut table = Proof::of(
        "people/wind-chill-metpy",
        "Wind chill; MetPy's metric form is a rounded translation of it",
        "MetPy 1.7.1, tests/reference/people_power.py",
        "rows",
        Allowed::absolute(0.12, "°F"),
    );
    for [air, mph, expected] in rows::<3>(METPY_CHILL) {
        table.near(wind_chill_f(air, mph), expected, || format!("{air} °F {mph} mph"));
    }
    table.done();
    // MetPy's test_basic.py: −5 °C in 35 m/s is −18.9357 °C, asserted to whole degrees.
    let metric =
        wind_chill(Temperature::from_celsius(-5.0), WindSpeed::from_meters_per_second(35.0));
    let mut proof = Proof::of(
        "people/wind-chill-printed",
        "Wind chill of −5 °C in 35 m/s",
        "MetPy 1.7.1, its tests",
        "value",
        Allowed::absolute(0.05, "°C"),
    );
    proof.near(metric.unwrap().celsius(), -18.9357, || "°C".to_owned());
    proof.done();
}

#[test]
fn wind_chill_is_undefined_in_mild_or_calm_air() {
    let chill = |air, mph| wind_chill(fahrenheit(air), WindSpeed::from_miles_per_hour(mph));
    assert!(chill(50.0, 10.0).is_some());
    assert_eq!(chill(50.01, 10.0), None);
    assert_eq!(chill(20.0, 3.0), None);
    assert!(chill(20.0, 3.01).is_some());
    assert_eq!(chill(20.0, -5.0), None);
    assert_eq!(chill(f64::NAN, 10.0), None);
    assert_eq!(chill(20.0, f64::NAN), None);
    assert_eq!(chill(20.0, f64::INFINITY), None);
}

#[test]
fn more_wind_never_feels_warmer_and_colder_air_feels_colder() {
    for air in -45..=50 {
        for mph in 4..80 {
            let here = wind_chill_f(f64::from(air), f64::from(mph));
            assert!(wind_chill_f(f64::from(air), f64::from(mph + 1)) < here, "{air}, {mph}");
            assert!(wind_chill_f(f64::from(air - 1), f64::from(mph)) < here, "{air}, {mph}");
        }
    }
}

#[test]
fn frostbite_begins_where_the_chart_shades_30_minutes() {
    // weather.gov chart: 0 °F in 15 mph (−19) is in the 30-minute area.
    let mut proof = Proof::of(
        "people/frostbite",
        "Where frostbite becomes possible",
        "NWSchill, the area of 30 minutes",
        "values",
        Allowed::Nothing,
    );
    for (chill, possible) in [(-19.0, true), (-18.0, true), (-17.9, false)] {
        proof.same(&frostbite_possible(fahrenheit(chill)), &possible, || format!("{chill} °F"));
    }
    proof.done();
}

#[test]
fn work_and_rest_match_every_row_of_the_schedule() {
    let mut reader = csv::Reader::from_reader(SCHEDULE.as_bytes());
    let mut read = 0;
    let mut proof = Proof::of(
        "people/work-rest",
        "Minutes of work and rest in heat",
        "NIOSHworkrest, the whole schedule",
        "rows",
        Allowed::Nothing,
    );
    for record in reader.records() {
        let record = record.unwrap();
        let air: f64 = record[0].parse().unwrap();
        let load = match &record[1] {
            "light" => WorkLoad::Light,
            "moderate" => WorkLoad::Moderate,
            "heavy" => WorkLoad::Heavy,
            other => panic!("unknown load {other}"),
        };
        let expected = match record[2].split_once('/') {
            Some((work, rest)) => WorkRest::Alternate {
                work_minutes: work.parse().unwrap(),
                rest_minutes: rest.parse().unwrap(),
            },
            None if &record[2] == "normal" => WorkRest::Normal,
            None if &record[2] == "caution" => WorkRest::Caution,
            None => panic!("unknown entry {}", &record[2]),
        };
        let got = work_rest(fahrenheit(air), load);
        proof.same(&got, &Some(expected), || format!("{air} °F, {load:?}"));
        read += 1;
    }
    assert_eq!(read, 69);
    proof.done();
}

#[test]
fn the_schedule_reads_to_the_nearest_degree_and_goes_on_beyond_its_ends() {
    let moderate = |air| work_rest(fahrenheit(air), WorkLoad::Moderate);
    let first = Some(WorkRest::Alternate { work_minutes: 45, rest_minutes: 15 });
    assert_eq!(moderate(99.49), Some(WorkRest::Normal));
    assert_eq!(moderate(99.5), first);
    assert_eq!(moderate(-40.0), Some(WorkRest::Normal));
    assert_eq!(moderate(140.0), Some(WorkRest::Caution));
    assert_eq!(moderate(f64::NAN), None);
}

#[test]
fn hotter_air_and_harder_work_never_ask_for_less_rest() {
    let work = |air: i32, load| match work_rest(fahrenheit(f64::from(air) / 2.0), load).unwrap() {
        WorkRest::Normal => 60,
        WorkRest::Alternate { work_minutes, rest_minutes } => {
            assert_eq!(work_minutes + rest_minutes, 60);
            work_minutes
        }
        WorkRest::Caution => 0,
    };
    for air in 120..260 {
        for load in [WorkLoad::Light, WorkLoad::Moderate, WorkLoad::Heavy] {
            assert!(work(air + 1, load) <= work(air, load));
        }
        assert!(work(air, WorkLoad::Heavy) <= work(air, WorkLoad::Moderate));
        assert!(work(air, WorkLoad::Moderate) <= work(air, WorkLoad::Light));
    }
}

#[test]
fn sun_and_humidity_are_added_before_the_schedule_is_read() {
    // The schedule's adjustments, from memory: (humidity %, sun, °F added).
    const ADDED: &[(f64, Sun, f64)] = &[
        (30.0, Sun::Shade, 0.0),
        (30.0, Sun::PartCloud, 7.0),
        (30.0, Sun::Full, 13.0),
        (10.0, Sun::Shade, -8.0),
        (20.0, Sun::Shade, -4.0),
        (40.0, Sun::Shade, 3.0),
        (50.0, Sun::Shade, 6.0),
        (60.0, Sun::Shade, 9.0),
        (60.0, Sun::Full, 22.0),
        (0.0, Sun::Shade, -8.0),
        (100.0, Sun::Shade, 9.0),
    ];
    let mut proof = Proof::of(
        "people/work-rest-adjusted",
        "What sun and humidity add before the schedule is read",
        "NIOSHadjust; from memory, not confirmed at the source",
        "values",
        Allowed::absolute(1e-9, "°F"),
    );
    for &(humidity, sun, added) in ADDED {
        let got = air_for_work_rest(fahrenheit(90.0), humidity, sun).unwrap().fahrenheit();
        proof.near(got - 90.0, added, || format!("{humidity} %, {sun:?}"));
    }
    proof.done();
    for humidity in [-1.0, 101.0, f64::NAN] {
        assert_eq!(air_for_work_rest(fahrenheit(90.0), humidity, Sun::Full), None);
    }
    for tenth in 0..1000 {
        let at = |tenth| air_for_work_rest(fahrenheit(90.0), f64::from(tenth) / 10.0, Sun::Shade);
        assert!(at(tenth + 1).unwrap() >= at(tenth).unwrap(), "{tenth}");
    }
}
