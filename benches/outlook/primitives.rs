//! What the engine's smallest parts cost on this machine, for the roofline.

use std::hint::black_box;

use fairseam::physics::drying::{Film, FilmSheet, FilmWeather, SMOOTH_SHEET_HOLDS};
use fairseam::physics::optics::Preset;
use fairseam::physics::surface::{Band, Surroundings, sheet_temperature};
use fairseam::physics::wet_balance::WetSheets;
use fairseam::units::{Temperature, WindSpeed};
use serde_json::{Value, json};

use crate::meter::Meter;

const TIMES: u32 = 400_000;

/// Nanoseconds of each, the middle of five rounds.
pub(crate) fn primitives() -> Value {
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
        "sine_and_cosine_ns": nanoseconds(|n| {
            let (sine, cosine) = (f64::from(n % 97) * 0.05).sin_cos();
            sine + cosine
        }),
        "square_root_ns": nanoseconds(|n| (f64::from(n % 97) + 0.3).sqrt()),
        "sheet_balance_ns": nanoseconds(|n| {
            sheet_temperature(optics, &around(n), 8.0).map_or(0.0, Temperature::celsius)
        }),
        "wet_balance_ns": nanoseconds(|n| wet_sheets(n).exchanges(optics).vapor.iter().sum()) / 12.0,
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

/// An hour's steps over a dewy night.
fn wet_sheets(n: u32) -> WetSheets<f64, 12> {
    let column = |begins: f64, rise: f64| {
        let mut column = [begins; 12];
        let mut moved = f64::from(n % 89) * 0.02;
        for value in &mut column {
            *value += moved;
            moved += rise;
        }
        column
    };
    WetSheets {
        air_c: column(8.0, -0.05),
        sky_c: column(-9.0, -0.04),
        shortwave_w_m2: [0.0; 12],
        dew_point_c: column(6.5, -0.03),
        surface_pressure_hpa: [1010.0; 12],
        convection_w_m2_k: column(7.0, 0.1),
    }
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
