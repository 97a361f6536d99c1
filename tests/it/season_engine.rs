//! The bulk engine against the plan: the same tests at the same minutes for the same reasons, and
//! the same hours, over whole years, zones and latitudes.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Timelike, Utc};
use chrono_tz::Tz;
use fairseam::plan::{PlanError, PlanInput, plan_day};
use fairseam::season::{DueTest, Engine, SeasonDay, day_of, sun_over};
use fairseam::site::{Site, load};
use fairseam::testweld::NoRecords;
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::sources::neutral_csv::parse_forecast;
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};

use crate::proof::{Allowed, Proof};
use crate::support::{example_site, in_tests};
use crate::weather_years::ohare;

/// Enough of a seeded generator for weather: a xorshift.
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        f64::from(u32::try_from(self.0 >> 33).unwrap()) / f64::from(1_u32 << 31)
    }
}

fn site(overrides: &[(&str, &str)]) -> Site {
    load(&example_site(overrides), "site.toml").unwrap().site
}

fn newark() -> Forecast {
    let bytes = std::fs::read(in_tests("fixtures/ewr2013.csv")).unwrap();
    parse_forecast(&bytes, "2014-01-01T00:00:00Z".parse().unwrap()).unwrap()
}

/// The hours of `record`, changed by `change`.
fn changed(record: &Forecast, mut change: impl FnMut(&mut Hour)) -> Forecast {
    let mut hours = record.hours().to_vec();
    for hour in &mut hours {
        change(hour);
    }
    Forecast::from_hours(provenance(), hours).unwrap()
}

fn provenance() -> Provenance {
    Provenance {
        source: "file".to_owned(),
        issued_at: None,
        fetched_at: "2014-01-01T00:00:00Z".parse().unwrap(),
        stale: false,
        attribution: "made for a test".to_owned(),
        time_zone: None,
    }
}

/// A year of made-up weather for a place at `latitude`: days and nights, fronts, dewy nights, rain,
/// storms, and holes of every kind in one hour of forty.
fn made_up(latitude: f64, seed: u64, with_radiation: bool) -> Forecast {
    let mut dice = Dice(seed);
    let first: DateTime<Utc> = "2015-12-30T00:00:00Z".parse().unwrap();
    let (mut cloud, mut front, mut wet, mut gap) = (50.0_f64, 0.0_f64, 0.0_f64, 0);
    let hours = (0..369 * 24).map(|n| {
        let time = first + TimeDelta::hours(n);
        let season = (f64::from(time.ordinal()) / 366.0 * std::f64::consts::TAU).cos();
        let of_day = (f64::from(time.hour()) / 24.0 * std::f64::consts::TAU).cos();
        cloud = (cloud + (dice.share() - 0.5) * 50.0).clamp(0.0, 100.0);
        front = front * 0.98 + (dice.share() - 0.5) * 2.0;
        wet = (wet * 0.8 + dice.share() - 0.75).max(0.0);
        let air =
            14.0 - 0.12 * latitude.abs() - season * latitude.signum() * 10.0 - 5.0 * of_day + front;
        let dew_point = air - 6.0 * dice.share() * dice.share();
        let wind = 14.0 * dice.share() * dice.share();
        let mut hour = Hour {
            air: Some(Temperature::from_celsius(air)),
            dew_point: Some(Temperature::from_celsius(dew_point)),
            humidity_pct: Some(40.0 + 60.0 * dice.share()),
            wind: Some(WindSpeed::from_meters_per_second(wind)),
            cloud_cover_pct: Some(cloud),
            surface_pressure_hpa: Some(990.0 + 20.0 * dice.share()),
            sea_level_pressure_hpa: Some(1000.0 + 20.0 * dice.share()),
            rain: Some(HourSum::of_one_hour(RainDepth::from_millimeters(if wet > 0.6 {
                wet
            } else {
                0.0
            }))),
            snow: (air < 0.0).then(|| HourSum::of_one_hour(RainDepth::from_millimeters(wet))),
            gust: (dice.share() < 0.3).then(|| WindSpeed::from_meters_per_second(wind * 1.7)),
            shortwave_w_m2: with_radiation.then(|| (900.0 * dice.share() * -of_day).max(0.0)),
            thunder_probability_pct: Some(if dice.share() < 0.01 { 80.0 } else { 0.0 }),
            thunder_named: (dice.share() < 0.02).then_some(dice.share() < 0.2),
            ..Hour::unknown(time)
        };
        match (dice.share() * 400.0) as u32 {
            0 => hour.dew_point = None,
            1 => hour.cloud_cover_pct = None,
            2 => hour.wind = None,
            3 => hour.rain = None,
            4 => hour.surface_pressure_hpa = None,
            5 => hour.air = None,
            6 => hour.humidity_pct = None,
            7 => (hour.dew_point, hour.humidity_pct) = (None, None),
            8 => hour.shortwave_w_m2 = None,
            9 => gap = 2,
            _ => {}
        }
        if gap > 0 {
            gap -= 1;
            hour = Hour::unknown(time);
        }
        hour
    });
    Forecast::from_hours(provenance(), hours.collect()).unwrap()
}

/// What the plan itself says of a day.
fn planned(
    site: &Site,
    zone: Tz,
    weather: &Forecast,
    date: NaiveDate,
) -> (SeasonDay, Vec<DueTest>) {
    let input = PlanInput {
        site,
        time_zone: zone,
        date,
        now: weather.provenance.fetched_at,
        forecast: weather,
        earlier: &NoRecords { carry_days: 7 },
    };
    match plan_day(&input) {
        Ok(plan) => {
            let minute = |at: DateTime<Utc>| usize::try_from((at - plan.shift.start).num_minutes());
            let test = |point: &fairseam::plan::Checkpoint| DueTest {
                minute: minute(point.time).unwrap(),
                cause: point.cause.name(),
            };
            (day_of(&plan), plan.checkpoints.iter().map(test).collect())
        }
        Err(PlanError::AirMissing { .. } | PlanError::ShiftVanishes { .. }) => {
            (SeasonDay { date, workday: None }, Vec::new())
        }
        Err(other) => panic!("{date}: {other}"),
    }
}

/// Holds every `nth` day of `year` against the plan; the number of tests by cause that were met.
fn agree(
    proof: &mut Proof,
    site: &Site,
    zone: Tz,
    weather: &Forecast,
    year: i32,
    nth: usize,
) -> Vec<(&'static str, usize)> {
    let first = NaiveDate::from_ymd_opt(year, 1, 1).unwrap();
    let dates: Vec<NaiveDate> =
        first.iter_days().take_while(|date| date.year() == year).step_by(nth).collect();
    let sun = sun_over(weather.first(), weather.last());
    let mut got = Vec::new();
    Engine::new(site, zone)
        .days(weather, sun, dates.iter().copied(), |day, tests| got.push((day, tests.to_vec())));
    let mut met: BTreeMap<&str, usize> = BTreeMap::from([("days", dates.len())]);
    assert_eq!(got.len(), dates.len());
    for (date, (day, tests)) in dates.into_iter().zip(got) {
        let (planned_day, planned_tests) = planned(site, zone, weather, date);
        alike(&day, &planned_day);
        proof.same(&tests, &planned_tests, || format!("{date} in {zone}"));
        for test in tests {
            *met.entry(test.cause).or_default() += 1;
        }
        if let Some(day) = day.workday {
            *met.entry("begins-wet").or_default() += usize::from(day.begins_wet);
            *met.entry("held").or_default() += usize::from(day.held.total() > 0);
        } else {
            *met.entry("uncovered").or_default() += 1;
        }
    }
    met.into_iter().collect()
}

/// Everything alike, the seam to the rounding of a sum in another order.
fn alike(one: &SeasonDay, other: &SeasonDay) {
    match (one.workday, other.workday) {
        (Some(mut day), Some(other_day)) => {
            assert!(
                (day.seam_m - other_day.seam_m).abs() < 0.01,
                "{}: {day:?} {other_day:?}",
                one.date
            );
            day.seam_m = other_day.seam_m;
            assert_eq!(day, other_day, "{}", one.date);
        }
        (one_day, other_day) => assert_eq!(one_day, other_day, "{}", one.date),
    }
}

fn met(counts: &[(&str, usize)], what: &str) -> usize {
    counts.iter().find(|(name, _)| *name == what).map_or(0, |(_, count)| *count)
}

#[test]
fn the_engine_agrees_with_the_plan_on_every_day_of_newark_2013() {
    let site = site(&[]);
    let mut proof = Proof::of(
        "inner/bulk-engine",
        "Test welds, spans and hours of the engine for many days, Newark 2013",
        "the plan of each day",
        "days",
        Allowed::Nothing,
    );
    let met_there = agree(&mut proof, &site, chrono_tz::America::New_York, &newark(), 2013, 1);
    assert!(met(&met_there, "ambient-change") > 5, "{met_there:?}");
    assert!(met(&met_there, "held") > 20, "{met_there:?}");
    assert_eq!(met(&met_there, "days"), 365);
    proof.done();
}

#[test]
fn the_engine_agrees_with_the_plan_on_every_day_of_ohare_2015() {
    let site = site(&[
        ("latitude_deg", "41.98"),
        ("longitude_deg", "-87.92"),
        ("time_zone", "\"America/Chicago\""),
        ("elevation", "659"),
    ]);
    let mut proof = Proof::of(
        "inner/bulk-engine-ohare",
        "The same, O'Hare 2015, with dew",
        "the plan of each day",
        "days",
        Allowed::Nothing,
    );
    let met_there = agree(&mut proof, &site, chrono_tz::America::Chicago, &ohare(), 2015, 1);
    // The station tells the sky for some of its hours, so that there is dew.
    for what in ["ambient-change", "held", "begins-wet"] {
        assert!(met(&met_there, what) > 5, "{what}: {met_there:?}");
    }
    proof.done();
}

#[test]
fn and_under_clouds_dew_and_a_black_sheet_that_moves_the_window() {
    let mut dice = Dice(7);
    let clouded = changed(&newark(), |hour| {
        hour.cloud_cover_pct = Some((dice.share() * 160.0 - 30.0).clamp(0.0, 100.0));
    });
    let site = site(&[("sheet.color", "\"black\""), ("rules.ambient_change", "25")]);
    let mut proof = Proof::of(
        "inner/bulk-engine-clouds",
        "The same under invented clouds on black sheet, every other day of Newark 2013",
        "the plan of each day",
        "days",
        Allowed::Nothing,
    );
    let met_there = agree(&mut proof, &site, chrono_tz::America::New_York, &clouded, 2013, 2);
    assert!(met(&met_there, "sheet-change") > 25, "{met_there:?}");
    assert!(met(&met_there, "begins-wet") > 10, "{met_there:?}");
    proof.done();
}

#[test]
fn and_in_a_leap_year_from_the_arctic_to_the_far_south() {
    let places = [
        ("Arctic/Longyearbyen", "78.22", "15.65", 3, false),
        ("Europe/Oslo", "69.65", "18.95", 4, true),
        ("Asia/Kathmandu", "27.7", "85.3", 5, true),
        ("Australia/Adelaide", "-34.9", "138.6", 6, false),
        ("America/Punta_Arenas", "-53.2", "-70.9", 8, true),
    ];
    let mut proof = Proof::of(
        "inner/bulk-engine-places",
        "The same in invented weather with gaps, from the Arctic to the far south, every fifth day of 2016",
        "the plan of each day",
        "days",
        Allowed::Nothing,
    );
    let mut met_anywhere = BTreeMap::new();
    for (zone, latitude, longitude, seed, radiation) in places {
        let site = site(&[
            ("latitude_deg", latitude),
            ("longitude_deg", longitude),
            ("time_zone", &format!("\"{zone}\"")),
            ("sheet.color", "\"gray\""),
            ("shift.start", "\"06:03\""),
        ]);
        let weather = made_up(latitude.parse().unwrap(), seed, radiation);
        let met_there = agree(&mut proof, &site, zone.parse().unwrap(), &weather, 2016, 5);
        for (what, count) in met_there {
            *met_anywhere.entry(what).or_insert(0) += count;
        }
    }
    for what in ["after-hold", "uncovered", "held", "begins-wet", "ambient-change", "sheet-change"]
    {
        assert!(met_anywhere.get(what).is_some_and(|count| *count > 1), "{what}: {met_anywhere:?}");
    }
    proof.done();
}

#[test]
fn and_at_night_across_both_changes_of_the_clock() {
    let site = site(&[
        ("shift.start", "\"22:00\""),
        ("shift.end", "\"06:30\""),
        ("shift.breaks", "[{ name = \"supper\", start = \"01:45\", minutes = 40 }]"),
        ("rules.merge_within_minutes", "45"),
        ("rules.max_hours_between", "3"),
    ]);
    let mut proof = Proof::of(
        "inner/bulk-engine-nights",
        "The same of night shifts, over both changes of the clock, every third day of 2016",
        "the plan of each day",
        "days",
        Allowed::Nothing,
    );
    let weather = made_up(40.7, 11, true);
    let met_there = agree(&mut proof, &site, chrono_tz::America::New_York, &weather, 2016, 3);
    assert!(met(&met_there, "elapsed") > 0, "{met_there:?}");
    proof.done();
}
