//! Sheet temperature: the standard's own conditions, measured sheets, laws over sweeps, edges.

use fairseam::physics::optics::{Optics, Preset};
use fairseam::physics::surface::{
    Band, Surroundings, convection_w_m2_k, sheet_range, sheet_temperature,
};
use fairseam::units::{Temperature, WindSpeed};

use crate::proof::{Allowed, Proof};

/// AstmE1980, standard conditions: 1000 W/m², air 310 K, sky 300 K.
fn standard() -> Surroundings {
    Surroundings {
        air: Temperature::from_kelvin(310.0),
        sky: Temperature::from_kelvin(300.0),
        shortwave_w_m2: 1000.0,
    }
}

fn wind(meters_per_second: f64) -> WindSpeed {
    WindSpeed::from_meters_per_second(meters_per_second)
}

fn kelvin(optics: Optics, convection: f64) -> f64 {
    sheet_temperature(optics, &standard(), convection).unwrap().kelvin()
}

fn black() -> Optics {
    Optics::new(0.05, 0.90).unwrap()
}

fn white() -> Optics {
    Optics::new(0.80, 0.90).unwrap()
}

/// (convection, black K, white K, allowed K, where the numbers come from)
const E1980: &[(f64, f64, f64, f64, &str)] = &[
    (12.0, 355.6, 317.8, 0.06, "AstmE1980, medium wind, as a published report of an SRI prints it"),
    (5.0, 376.84, 322.40, 0.01, "AstmE1980, low wind: root by scipy, tests/reference/sheet.py"),
    (30.0, 334.22, 313.93, 0.01, "AstmE1980, high wind: root by scipy, tests/reference/sheet.py"),
];

#[test]
fn the_standards_black_and_white_at_three_winds() {
    let mut sheets = Proof::of(
        "sheet/standard-black-and-white",
        "The standard's black and white surface at three winds",
        "AstmE1980, as printed at medium wind; the others root by scipy 1.17.1",
        "temperatures",
        Allowed::Each("0.06 K printed, 0.01 K worked"),
    );
    let mut closes = Proof::of(
        "sheet/standard-balance",
        "Heat shed and taken up by the standard's black and white surface",
        "AstmE1980, its balance with its own printed constant",
        "balances",
        Allowed::absolute(0.1, "W/m²"),
    );
    for &(convection, black_k, white_k, allowed, source) in E1980 {
        let (b, w) = (kelvin(black(), convection), kelvin(white(), convection));
        sheets.within(b, black_k, allowed, || format!("{source}: black"));
        sheets.within(w, white_k, allowed, || format!("{source}: white"));
        // The balance itself, with the standard's own printed constant 5.66961e-8, must close to
        // what the constants differ by.
        for (t, absorbed) in [(b, 950.0), (w, 200.0)] {
            let shed = 0.9 * 5.669_61e-8 * (t.powi(4) - 300_f64.powi(4)) + convection * (t - 310.0);
            closes.near(shed, absorbed, || source.to_owned());
        }
    }
    sheets.done();
    closes.done();
}

/// (what, reflectance, emittance, SRI): Source: Lbnl2000, measured sheets.
const MEASURED: &[(&str, f64, f64, f64)] = &[
    ("black single-ply", 0.06, 0.86, -1.0),
    ("white single-ply", 0.83, 0.92, 104.0),
    ("white granules on bitumen", 0.26, 0.92, 28.0),
    ("light gravel on a built-up roof", 0.34, 0.90, 37.0),
];

#[test]
fn measured_sheets_get_their_published_index() {
    let mut proof = Proof::of(
        "sheet/reflectance-index",
        "Solar reflectance index of measured roofs",
        "Lbnl2000; whole numbers",
        "roofs",
        Allowed::absolute(1.0, ""),
    );
    for &(what, reflectance, emittance, printed) in MEASURED {
        let sheet = kelvin(Optics::new(reflectance, emittance).unwrap(), 12.0);
        let (b, w) = (kelvin(black(), 12.0), kelvin(white(), 12.0));
        let index = 100.0 * (b - sheet) / (b - w);
        proof.near(index, printed, || what.to_owned());
    }
    proof.done();
}

#[test]
fn the_closed_form_of_the_standard_agrees_with_the_balance() {
    // AstmE1980-11, its alternative equations: mean error 0.9, at most 2.
    let mut proof = Proof::of(
        "sheet/reflectance-index-closed-form",
        "Solar reflectance index",
        "AstmE1980, edition of 2011, its closed form, good to 2",
        "surfaces",
        Allowed::absolute(2.0, ""),
    );
    for convection in [5.0, 12.0, 30.0] {
        let (b, w) = (kelvin(black(), convection), kelvin(white(), convection));
        for reflectance in [0.05, 0.2, 0.4, 0.6, 0.8] {
            for e in [0.7, 0.8, 0.9, 0.95] {
                let sheet = kelvin(Optics::new(reflectance, e).unwrap(), convection);
                let index = 100.0 * (b - sheet) / (b - w);
                let a = 1.0 - reflectance;
                let x = (a - 0.029 * e) * (8.797 + convection) / (9.5205 * e + convection);
                let closed = 123.97 - 141.35 * x + 9.655 * x * x;
                proof.near(index, closed, || format!("{convection} {reflectance} {e}"));
            }
        }
    }
    proof.done();
}

#[test]
fn the_range_of_convection_takes_in_the_standards_three() {
    // AstmE1980: 5, 12 and 30 W/(m² K) for winds of 0 to 2, 2 to 6 and 6 to 10 m/s.
    let mut inside = Proof::of(
        "sheet/convection-standard",
        "The standard's three convections, each within our band for its wind",
        "AstmE1980",
        "winds",
        Allowed::Range("our band"),
    );
    for (middle, printed) in [(1.0, 5.0), (4.0, 12.0), (8.0, 30.0)] {
        let range = convection_w_m2_k(wind(middle)).unwrap();
        inside.inside(printed, range.low..=range.high, || format!("{middle} m/s"));
    }
    inside.done();
    // Iso6946, annex C: 4 + 4 v of the wind at the surface, 0.65 of that at 10 m.
    let range = convection_w_m2_k(wind(4.0)).unwrap();
    let mut proof = Proof::of(
        "sheet/convection",
        "Convection in 4 m/s; that the roof has 0.65 of the wind at 10 m is our assumption",
        "Iso6946, annex C, by hand",
        "wind",
        Allowed::absolute(1e-9, "W/(m² K)"),
    );
    proof.near(range.nominal, 4.0 + 4.0 * 0.65 * 4.0, || "4 m/s".to_owned());
    proof.done();
    assert!((range.of(Band::Low) / range.of(Band::Nominal) - 0.6).abs() < 1e-12);
    assert!((range.of(Band::High) / range.of(Band::Nominal) - 1.5).abs() < 1e-12);
}

#[test]
fn a_surface_sheds_six_watts_for_each_kelvin_by_radiation_alone() {
    // Lbnl2000, terms: a black body near room temperature sheds about 6.1 W/m² for each °C above.
    let black_body = Optics::new(0.0, 1.0).unwrap();
    let room = Temperature::from_celsius(25.0);
    let around = Surroundings { air: room, sky: room, shortwave_w_m2: 61.0 };
    let rise = (sheet_temperature(black_body, &around, 1e-6).unwrap() - room).kelvin();
    let mut proof = Proof::of(
        "sheet/radiation-alone",
        "Rise of a black body that can only radiate, for 61 W/m²",
        "Lbnl2000, its page of terms",
        "rise",
        Allowed::absolute(0.5, "K"),
    );
    proof.near(rise, 10.0, || "61 W/m²".to_owned());
    proof.done();
}

/// Every preset, in every weather of a coarse grid.
fn sweep(mut check: impl FnMut(Optics, Surroundings, f64)) {
    for preset in Preset::ALL {
        for air in [-25.0, 0.0, 20.0, 42.0] {
            for below_air in [0.0, 8.0, 25.0] {
                for shortwave_w_m2 in [0.0, 120.0, 600.0, 1100.0] {
                    for speed in [0.0, 0.5, 2.0, 6.0, 15.0] {
                        let air = Temperature::from_celsius(air);
                        let sky = Temperature::from_celsius(air.celsius() - below_air);
                        check(
                            preset.optics(false),
                            Surroundings { air, sky, shortwave_w_m2 },
                            speed,
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn brighter_sun_never_cools_the_sheet() {
    sweep(|optics, around, speed| {
        let brighter = Surroundings { shortwave_w_m2: around.shortwave_w_m2 + 10.0, ..around };
        let before = sheet_range(optics, &around, wind(speed)).unwrap();
        let after = sheet_range(optics, &brighter, wind(speed)).unwrap();
        assert!(
            after.nominal > before.nominal && after.low > before.low && after.high > before.high
        );
    });
}

#[test]
fn more_wind_moves_the_sheet_towards_the_air_and_never_past_it() {
    sweep(|optics, around, speed| {
        let from_air = |speed| {
            (sheet_range(optics, &around, wind(speed)).unwrap().nominal - around.air).kelvin()
        };
        let (calmer, windier) = (from_air(speed), from_air(speed + 1.0));
        assert!(windier.abs() <= calmer.abs() + 1e-9, "{around:?} {speed}: {calmer} {windier}");
        assert!(windier * calmer >= -1e-9, "{around:?} {speed}: {calmer} {windier}");
    });
}

#[test]
fn a_darker_sheet_is_never_cooler_and_the_range_encloses_the_nominal() {
    sweep(|optics, around, speed| {
        let range = sheet_range(optics, &around, wind(speed)).unwrap();
        assert!(range.low <= range.nominal && range.nominal <= range.high, "{range:?}");
        let darker =
            Optics::new(optics.solar_reflectance() * 0.9, optics.thermal_emittance()).unwrap();
        assert!(sheet_range(darker, &around, wind(speed)).unwrap().nominal >= range.nominal);
        // Without sun the sheet lies between sky and air.
        if around.shortwave_w_m2 == 0.0 {
            assert!(!range.high.is_above(around.air) && !range.low.is_below(around.sky));
        }
    });
}

#[test]
fn just_outside_the_range_there_is_no_answer() {
    let (optics, around) = (white(), standard());
    for speed in [-0.01, 60.01, f64::NAN, f64::INFINITY] {
        assert_eq!(convection_w_m2_k(wind(speed)), None, "{speed}");
        assert_eq!(sheet_range(optics, &around, wind(speed)), None, "{speed}");
    }
    for convection in [0.0, -1.0, 500.1, f64::NAN] {
        assert_eq!(sheet_temperature(optics, &around, convection), None, "{convection}");
    }
    for air in [-90.1, 60.1, f64::NAN] {
        let around = Surroundings { air: Temperature::from_celsius(air), ..around };
        assert_eq!(sheet_temperature(optics, &around, 10.0), None, "{air}");
    }
    for sky in [-200.1, 60.1, f64::NAN] {
        let around = Surroundings { sky: Temperature::from_celsius(sky), ..around };
        assert_eq!(sheet_temperature(optics, &around, 10.0), None, "{sky}");
    }
    for shortwave_w_m2 in [-0.1, 1500.1, f64::NAN] {
        let around = Surroundings { shortwave_w_m2, ..around };
        assert_eq!(sheet_temperature(optics, &around, 10.0), None, "{shortwave_w_m2}");
    }
}
