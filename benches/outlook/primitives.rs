//! What the engine's smallest parts cost on this machine, for the roofline.

use std::hint::black_box;

use fairseam::physics::drying::{Film, FilmSheet, FilmWeather, SMOOTH_SHEET_HOLDS};
use fairseam::physics::optics::Preset;
use fairseam::physics::surface::{Band, Surroundings, sheet_temperature};
use fairseam::units::{Temperature, WindSpeed};
use serde_json::{Value, json};

use crate::meter::Meter;

const TIMES: u32 = 400_000;

/// Nanoseconds of each, the middle of five rounds.
pub fn primitives() -> Value {
    let optics = Preset::White.optics(false);
    let around = |n: u32| Surroundings {
        air: Temperature::from_celsius(5.0 + f64::from(n % 97) * 0.05),
        sky: Temperature::from_celsius(-9.0 + f64::from(n % 89) * 0.05),
        shortwave_w_m2: 0.0,
    };
    let sheet = FilmSheet { optics, holds: SMOOTH_SHEET_HOLDS, convection: Band::Nominal };
    let mut film = Film::dry(sheet);
    json!({
        "exp_ns": nanoseconds(|n| (f64::from(n % 97) * 0.01 - 0.3).exp()),
        "divide_ns": nanoseconds(|n| 1.0 / (f64::from(n % 97) + 0.3)),
        "square_root_ns": nanoseconds(|n| (f64::from(n % 97) + 0.3).sqrt()),
        "sheet_balance_ns": nanoseconds(|n| {
            sheet_temperature(optics, &around(n), 8.0).map_or(0.0, Temperature::celsius)
        }),
        "film_step_ns": nanoseconds(|n| {
            let weather = FilmWeather {
                around: around(n),
                dew_point: Temperature::from_celsius(4.0),
                wind: WindSpeed::from_meters_per_second(1.5),
                surface_pressure_hpa: 1010.0,
                rain_mm_per_h: 0.0,
            };
            let step = film.as_mut().and_then(|film| film.step(&weather, 5.0));
            step.map_or(0.0, |step| step.depth.millimeters())
        }),
    })
}

fn nanoseconds(mut work: impl FnMut(u32) -> f64) -> f64 {
    let mut rounds: Vec<f64> = (0..5)
        .map(|_| {
            let meter = Meter::start();
            for n in 0..TIMES {
                black_box(work(black_box(n)));
            }
            meter.seconds() * 1e9 / f64::from(TIMES)
        })
        .collect();
    rounds.sort_by(f64::total_cmp);
    rounds[rounds.len() / 2]
}
