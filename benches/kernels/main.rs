//! What the parts of the bulk engine cost, and whole site-years: `cargo bench --bench kernels`.

#![expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a bench's counts are small"
)]
#![allow(
    dead_code,
    reason = "the drawn weather is shared with the other bench, which uses all of it"
)]

#[path = "../outlook/dice.rs"]
mod dice;
#[path = "../outlook/real.rs"]
mod real;
#[path = "../outlook/resample.rs"]
mod resample;
#[path = "../outlook/sites.rs"]
mod sites;

use std::hint::black_box;
use std::path::Path;
use std::time::Duration;

use criterion::{BatchSize, Criterion, Throughput};
use fairseam::physics::drying::{Film, FilmSheet, FilmWeather, SMOOTH_SHEET_HOLDS};
use fairseam::physics::ephemeris::Ephemeris;
use fairseam::physics::optics::Preset;
use fairseam::physics::surface::{Band, Surroundings, sheet_temperature};
use fairseam::physics::wet_balance::WetSheets;
use fairseam::plan::Roof;
use fairseam::season::{Suns, site_year, sun_over};
use fairseam::units::{Temperature, WindSpeed};

use crate::real::Real;

const YEAR: i32 = 2001;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(30)
        .measurement_time(Duration::from_secs(3))
        .configure_from_args();
    balances(&mut criterion);
    over_a_roof(&mut criterion);
    criterion.final_summary();
}

fn night() -> FilmWeather {
    FilmWeather {
        around: Surroundings {
            air: Temperature::from_celsius(8.0),
            sky: Temperature::from_celsius(-9.0),
            shortwave_w_m2: 0.0,
        },
        dew_point: Temperature::from_celsius(6.5),
        wind: WindSpeed::from_meters_per_second(1.5),
        surface_pressure_hpa: 1010.0,
        rain_mm_per_h: 0.0,
    }
}

/// The twelve steps of an hour of such a night.
fn twelve_wet_sheets() -> WetSheets<f64, 12> {
    let cooling = |from: f64| {
        let mut column = [from; 12];
        for n in 1..column.len() {
            column[n] = column[n - 1] - 0.05;
        }
        column
    };
    WetSheets {
        air_c: cooling(8.0),
        sky_c: cooling(-9.0),
        shortwave_w_m2: [0.0; 12],
        dew_point_c: cooling(6.5),
        surface_pressure_hpa: [1010.0; 12],
        convection_w_m2_k: [7.9; 12],
    }
}

/// A dry sheet, wet sheets, one step of water.
fn balances(criterion: &mut Criterion) {
    let optics = Preset::White.optics(false);
    let weather = night();
    criterion.bench_function("sheet balance", |bench| {
        bench.iter(|| sheet_temperature(optics, black_box(&weather.around), black_box(8.0)));
    });
    let sheets = twelve_wet_sheets();
    criterion.bench_function("twelve wet balances at once", |bench| {
        bench.iter(|| black_box(&sheets).exchanges(black_box(optics)));
    });
    let sheet = FilmSheet { optics, holds: SMOOTH_SHEET_HOLDS, convection: Band::Nominal };
    criterion.bench_function("film step", |bench| {
        let mut film = Film::dry(sheet);
        bench.iter(|| film.as_mut().and_then(|film| film.step(black_box(&weather), 5.0)));
    });
}

/// A moment, a night's water, a year's sun, a year.
fn over_a_roof(criterion: &mut Criterion) {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures");
    let Ok(real) = Real::read(&fixtures) else {
        unreachable!("the real years are in the fixtures")
    };
    let columns = resample::year(&real, 0, YEAR);
    let weather = columns.forecast();
    let roof = sites::site(0);
    let Some(zone) = roof.time_zone else { unreachable!("the bench's sites have a zone") };
    let sun = sun_over(weather.first(), weather.last());
    let overhead = Roof::under(&roof, &weather, sun);
    let (from, to) = (
        weather.first() + chrono::TimeDelta::hours(2412),
        weather.first() + chrono::TimeDelta::hours(2420),
    );
    criterion.bench_function("moment on the roof", |bench| {
        bench.iter(|| overhead.at(black_box(from)));
    });
    criterion.bench_function("water from evening to evening", |bench| {
        bench.iter(|| overhead.film(black_box(from), black_box(to), Band::Nominal));
    });
    criterion.bench_function("sun of a year, for all roofs", |bench| {
        bench.iter(|| Ephemeris::covering(black_box(weather.first()), weather.last()));
    });
    let mut group = criterion.benchmark_group("whole site-years");
    group.throughput(Throughput::Elements(8760));
    for (number, name) in [(0, "white, Newark"), (1, "white, Chicago"), (6, "black, Newark")] {
        let roof = sites::site(number);
        let zone = roof.time_zone.unwrap_or(zone);
        let suns = Suns::default();
        group.bench_function(name, |bench| {
            let drawn = || resample::year(&real, number, YEAR).forecast();
            bench.iter_batched_ref(
                drawn,
                |weather| site_year(&roof, zone, weather, YEAR, &suns),
                BatchSize::LargeInput,
            );
        });
    }
    group.finish();
}
