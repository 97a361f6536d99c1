//! The water film: filled by rain, dew and frost, emptied by sun and wind, never below nothing.

use fairseam::physics::drying::{
    Film, FilmSheet, FilmState, FilmWeather, SMOOTH_SHEET_HOLDS, evaporation_mm_per_h,
};
use fairseam::physics::humidity::dew_point;
use fairseam::physics::optics::Preset;
use fairseam::physics::surface::{Band, Surroundings};
use fairseam::units::{RainDepth, Temperature, WindSpeed};

use crate::proof::{Allowed, Proof};

fn sheet() -> FilmSheet {
    FilmSheet {
        optics: Preset::White.optics(false),
        holds: SMOOTH_SHEET_HOLDS,
        convection: Band::Nominal,
    }
}

fn weather(air_c: f64, humidity_pct: f64, sky_below_k: f64, sun: f64, wind: f64) -> FilmWeather {
    let air = Temperature::from_celsius(air_c);
    FilmWeather {
        around: Surroundings {
            air,
            sky: Temperature::from_celsius(air_c - sky_below_k),
            shortwave_w_m2: sun,
        },
        dew_point: dew_point(air, humidity_pct).unwrap(),
        wind: WindSpeed::from_meters_per_second(wind),
        surface_pressure_hpa: 1000.0,
        rain_mm_per_h: 0.0,
    }
}

fn rain(mm_per_h: f64) -> FilmWeather {
    FilmWeather { rain_mm_per_h: mm_per_h, ..weather(15.0, 95.0, 1.0, 0.0, 2.0) }
}

#[test]
fn rain_fills_the_sheet_to_what_it_holds_and_the_rest_runs_off() {
    let mut film = Film::dry(sheet()).unwrap();
    // By hand: 1.2 mm/h for 10 minutes is 0.2 mm; saturated dim air takes less than 0.02 of it.
    let step = film.step(&rain(1.2), 10.0).unwrap();
    let mut proof = Proof::of(
        "water/rain-on-sheet",
        "Ten minutes of rain on a dry sheet",
        "worked by hand",
        "film",
        Allowed::absolute(0.02, "mm"),
    );
    proof.near(step.depth.millimeters(), 0.2, || format!("{step:?}"));
    proof.done();
    assert_eq!(step.state, FilmState::Wet);
    for _ in 0..20 {
        film.step(&rain(30.0), 10.0).unwrap();
    }
    assert_eq!(film.depth(), SMOOTH_SHEET_HOLDS);
}

#[test]
fn a_film_is_gone_after_its_depth_over_its_rate() {
    let sunny = weather(20.0, 60.0, 12.0, 500.0, 3.0);
    let rate = evaporation_mm_per_h(&sheet(), &sunny).unwrap();
    // Chow1988, example 3.5.3: open water under 200 W/m² loses 7.2 mm in a day, 0.3 mm in an hour;
    // white sheet keeps less than 100 of these 500 W/m², but has the same wind and dry air.
    let mut proof = Proof::of(
        "water/sunny-rate",
        "Drying of a white sheet in the sun, mm/h",
        "Chow1988, example 3.5.3, as an upper bound",
        "rate",
        Allowed::Range("0.1 to 0.3"),
    );
    proof.inside(rate, 0.1..0.3, || "mm/h".to_owned());
    proof.done();
    let mut film = Film::full(sheet()).unwrap();
    let mut minutes = 0.0;
    let dry_at = loop {
        let step = film.step(&sunny, 7.0).unwrap();
        if let Some(after) = step.dry_after_minutes {
            assert_eq!((step.state, step.depth.millimeters()), (FilmState::Dry, 0.0));
            break minutes + after;
        }
        assert_eq!(step.state, FilmState::Wet);
        minutes += 7.0;
        assert!(minutes < 600.0, "it never dries");
    };
    assert!((dry_at - 0.3 / rate * 60.0).abs() < 1e-6, "{dry_at}");
}

#[test]
fn a_wet_sheet_is_cooler_than_a_dry_one_and_warms_when_it_dries() {
    let sunny = weather(20.0, 60.0, 12.0, 700.0, 3.0);
    let (mut wet, mut dry) = (Film::full(sheet()).unwrap(), Film::dry(sheet()).unwrap());
    let cool = wet.step(&sunny, 1.0).unwrap();
    let warm = dry.step(&sunny, 1.0).unwrap();
    assert!(warm.sheet.celsius() > cool.sheet.celsius() + 1.0, "{cool:?} {warm:?}");
    assert_eq!((warm.state, warm.dry_after_minutes), (FilmState::Dry, None));
}

#[test]
fn a_clear_calm_humid_night_brings_dew_and_a_cloudy_or_windy_one_does_not() {
    let night = |weather: FilmWeather| {
        let mut film =
            Film::dry(FilmSheet { holds: RainDepth::from_millimeters(5.0), ..sheet() }).unwrap();
        for _ in 0..60 {
            film.step(&weather, 10.0).unwrap();
        }
        film.depth().millimeters()
    };
    let clear = night(weather(15.0, 90.0, 18.0, 0.0, 0.5));
    // Monteith1957: dew is at most 0.8 mm in a night, 0.1 to 0.3 mm commonly.
    let mut proof = Proof::of(
        "water/dew-of-a-night",
        "Dew of a clear, calm, humid night, mm",
        "Monteith1957; figures from memory",
        "night",
        Allowed::Range("0.05 to 0.8"),
    );
    proof.inside(clear, 0.05..0.8, || "mm".to_owned());
    proof.done();
    assert_eq!(night(weather(15.0, 90.0, 1.0, 0.0, 0.5)), 0.0);
    assert_eq!(night(weather(15.0, 70.0, 18.0, 0.0, 8.0)), 0.0);
}

#[test]
fn below_freezing_the_film_is_frost() {
    let mut film = Film::dry(sheet()).unwrap();
    let step = film.step(&weather(-3.0, 95.0, 18.0, 0.0, 0.5), 10.0).unwrap();
    assert_eq!(step.state, FilmState::Frost);
    assert!(step.evaporation_mm_per_h < 0.0 && step.depth.millimeters() > 0.0, "{step:?}");
}

#[test]
fn the_film_is_never_negative_and_never_more_than_the_sheet_holds() {
    let mut film = Film::dry(sheet()).unwrap();
    let mut dried = 0;
    for n in 0..20_000_u32 {
        // A weather that jumps about without a pattern, the same on every run.
        let dice = |sides: u32, salt: u32| {
            f64::from((n.wrapping_mul(2_654_435_761) >> (7 + salt)) % sides)
        };
        let humidity = 10.0 + dice(91, 1);
        let mut now =
            weather(dice(60, 2) - 20.0, humidity, dice(25, 3), dice(1200, 4), dice(15, 5));
        now.rain_mm_per_h = if dice(10, 6) < 1.0 { dice(20, 8) } else { 0.0 };
        let step = film.step(&now, 0.1 + dice(100, 9) / 10.0).unwrap();
        let depth = step.depth.millimeters();
        assert!((0.0..=0.3).contains(&depth), "{depth}");
        assert_eq!(step.depth, film.depth());
        assert_eq!(step.state == FilmState::Dry, depth == 0.0);
        dried += u32::from(step.dry_after_minutes.is_some());
    }
    assert!(dried > 100, "{dried}");
}

#[test]
fn ten_steps_of_a_minute_are_one_of_ten() {
    for weather in
        [rain(0.5), weather(20.0, 60.0, 12.0, 500.0, 3.0), weather(15.0, 90.0, 18.0, 0.0, 0.5)]
    {
        let (mut one, mut ten) = (Film::full(sheet()).unwrap(), Film::full(sheet()).unwrap());
        one.step(&weather, 10.0).unwrap();
        for _ in 0..10 {
            ten.step(&weather, 1.0).unwrap();
        }
        assert!((one.depth().millimeters() - ten.depth().millimeters()).abs() < 1e-12);
    }
}

#[test]
fn a_dark_sheet_dries_sooner_in_the_sun() {
    let sunny = weather(20.0, 60.0, 12.0, 500.0, 3.0);
    let rate = |preset: Preset| {
        evaporation_mm_per_h(&FilmSheet { optics: preset.optics(false), ..sheet() }, &sunny)
            .unwrap()
    };
    assert!(rate(Preset::Black) > rate(Preset::Gray) && rate(Preset::Gray) > rate(Preset::Tan));
    assert!(rate(Preset::Tan) > rate(Preset::White));
}

#[test]
fn what_is_no_weather_leaves_the_film_as_it_was() {
    let sound = weather(20.0, 60.0, 12.0, 500.0, 3.0);
    let mut film = Film::full(sheet()).unwrap();
    let before = film;
    let mut refused = |weather: FilmWeather, minutes: f64| {
        assert_eq!(film.step(&weather, minutes), None, "{weather:?} {minutes}");
        assert_eq!(film, before);
    };
    for minutes in [0.0, -1.0, 60.1, f64::NAN, f64::INFINITY] {
        refused(sound, minutes);
    }
    for value in [-0.1, 500.1, f64::NAN] {
        refused(FilmWeather { rain_mm_per_h: value, ..sound }, 10.0);
    }
    for value in [-0.1, 60.1, f64::NAN] {
        refused(FilmWeather { wind: WindSpeed::from_meters_per_second(value), ..sound }, 10.0);
    }
    for value in [-80.1, 50.1, f64::NAN] {
        refused(FilmWeather { dew_point: Temperature::from_celsius(value), ..sound }, 10.0);
    }
    for value in [299.9, 1100.1, f64::NAN] {
        refused(FilmWeather { surface_pressure_hpa: value, ..sound }, 10.0);
    }
    for holds in [-0.1, 10.1, f64::NAN] {
        let sheet = FilmSheet { holds: RainDepth::from_millimeters(holds), ..sheet() };
        assert_eq!(Film::dry(sheet), None, "{holds}");
        assert_eq!(Film::full(sheet), None, "{holds}");
    }
    // A sheet that holds nothing is dry, whatever falls.
    let mut glass =
        Film::dry(FilmSheet { holds: RainDepth::from_millimeters(0.0), ..sheet() }).unwrap();
    assert_eq!(glass.step(&rain(10.0), 10.0).unwrap().state, FilmState::Dry);
}
