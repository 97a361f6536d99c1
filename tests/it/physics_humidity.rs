//! Humidity: printed vapor pressures and dew points, exact inverses, both edges.

use fairseam::physics::humidity::{
    Condensation, condensation, dew_point, frost_point, relative_humidity_pct,
    saturation_over_ice_hpa, saturation_over_water_hpa, saturation_slope_hpa_per_k,
};
use fairseam::units::Temperature;

use crate::proof::{Allowed, Proof};

fn celsius(degrees: f64) -> Temperature {
    Temperature::from_celsius(degrees)
}

/// (°C, hPa, where the number was read)
const OVER_WATER: &[(f64, f64, &str)] = &[
    (5.0, 8.72, "Ambaum2020, as the MetPy tests print it"),
    (10.0, 12.27, "Ambaum2020, as the MetPy tests print it"),
    (18.0, 20.61, "Ambaum2020, as the MetPy tests print it"),
    (25.0, 31.62, "Ambaum2020, as the MetPy tests print it"),
    (15.0, 17.05, "Allen1998, example 3"),
    (19.5, 22.67, "Allen1998, example 4"),
    (24.5, 30.75, "Allen1998, example 3"),
    (38.0, 66.25, "Allen1998, example 19"),
];

/// (°C, mmHg printed): Source: CrcHandbook, vapor pressure of ice, as a hygrometer's manual prints
/// it.
const OVER_ICE_MMHG: &[(f64, f64)] = &[
    (0.0, 4.579),
    (-1.0, 4.217),
    (-5.0, 3.013),
    (-10.0, 1.950),
    (-15.0, 1.241),
    (-20.0, 0.776),
    (-30.0, 0.2859),
    (-40.0, 0.0966),
];

#[test]
fn vapor_pressures_as_printed() {
    // AlduchovEskridge1996 claim 0.4 %, over water and over ice.
    let mut water = Proof::of(
        "air/vapor-over-water",
        "Vapor pressure over water",
        "Ambaum2020 and Allen1998, as printed",
        "pressures",
        Allowed::Relative(0.004),
    );
    for &(air, printed, source) in OVER_WATER {
        let got = saturation_over_water_hpa(celsius(air)).unwrap();
        water.near(got, printed, || format!("{source}: {air} °C"));
    }
    water.done();
    let mut ice = Proof::of(
        "air/vapor-over-ice",
        "Vapor pressure over ice",
        "CrcHandbook, as a hygrometer's manual prints it",
        "pressures",
        Allowed::Relative(0.0045),
    );
    for &(at, mmhg) in OVER_ICE_MMHG {
        let got = saturation_over_ice_hpa(celsius(at)).unwrap();
        let printed = mmhg * 1.333_224;
        // The last printed digit adds up to 0.05 %.
        ice.near(got, printed, || format!("{at} °C"));
    }
    ice.done();
}

#[test]
fn slope_as_printed() {
    // Allen1998, example 19: 0.358 kPa/K at 38 °C, from its own curve (Tetens); ours is steeper by
    // 0.3 % there.
    let got = saturation_slope_hpa_per_k(celsius(38.0)).unwrap();
    let mut proof = Proof::of(
        "air/vapor-slope",
        "Slope of the vapor pressure at 38 °C",
        "Allen1998, example 19; from another fit",
        "slope",
        Allowed::absolute(0.012, "hPa/K"),
    );
    proof.near(got, 3.58, || "38 °C".to_owned());
    proof.done();
    // Law: the slope is the curve's.
    for at in -40..60 {
        let at = f64::from(at);
        let rise = saturation_over_water_hpa(celsius(at + 0.01)).unwrap()
            - saturation_over_water_hpa(celsius(at - 0.01)).unwrap();
        let slope = saturation_slope_hpa_per_k(celsius(at)).unwrap();
        assert!((rise / 0.02 - slope).abs() < 1e-5 * slope, "{at}");
    }
}

/// (air °C, RH %, dew point °C to the degree): Source: MetPy tests of `dewpoint_from_relative_humidity`.
const DEW_POINTS: &[(f64, f64, f64)] = &[
    (30.0, 30.0, 11.0),
    (25.0, 45.0, 12.0),
    (10.0, 55.0, 1.0),
    (20.0, 80.0, 16.0),
    (25.0, 85.0, 22.0),
];

#[test]
fn dew_points_as_printed() {
    let mut proof = Proof::of(
        "air/dew-points-printed",
        "Dew point from air and humidity",
        "MetPy 1.7.1, its tests and its docstring; Lawrence2005's rule of thumb",
        "dew points",
        Allowed::Each("0.8 °C where whole degrees are printed, 0.03 °C, 0.5 °C for the rule"),
    );
    for &(air, humidity, printed) in DEW_POINTS {
        let got = dew_point(celsius(air), humidity).unwrap().celsius();
        proof.within(got, printed, 0.8, || format!("{air} °C {humidity} %"));
    }
    // Bolton1980, eq. 11, as MetPy's docstring works it: 22 hPa is a dew point of 19.0291 °C.
    let humidity = 100.0 * 22.0 / saturation_over_water_hpa(celsius(30.0)).unwrap();
    let got = dew_point(celsius(30.0), humidity).unwrap().celsius();
    // The two fitted curves are 0.15 % apart there.
    proof.within(got, 19.029_1, 0.03, || "Bolton".to_owned());
    // Lawrence2005: the dew point falls by about 1 °C for each 5 % of humidity above 50 %.
    let spread = 25.0 - dew_point(celsius(25.0), 75.0).unwrap().celsius();
    proof.within(spread, 5.0, 0.5, || "Lawrence".to_owned());
    proof.done();
}

#[test]
fn humidity_and_dew_point_are_inverses() {
    for air in (-40..=50).step_by(5) {
        for humidity in [0.5, 3.0, 10.0, 40.0, 73.2, 99.9, 100.0] {
            let air = celsius(f64::from(air));
            let Some(dew) = dew_point(air, humidity) else {
                // Too dry to name: below -80 °C.
                assert!(humidity < 4.0, "{air:?} {humidity}");
                continue;
            };
            assert!(!dew.is_above(air), "dew point above the air: {air:?} {humidity}");
            let back = relative_humidity_pct(air, dew).unwrap();
            assert!((back - humidity).abs() < 1e-9, "{air:?} {humidity}: {back}");
        }
    }
}

#[test]
fn moister_air_has_a_higher_dew_point_and_warmer_air_holds_more() {
    let mut before = f64::NEG_INFINITY;
    for tenths in 1..=1000 {
        let now = dew_point(celsius(20.0), f64::from(tenths) / 10.0).unwrap().celsius();
        assert!(now > before, "{tenths}");
        before = now;
    }
    let mut held = 0.0;
    for tenths in -800..=1000 {
        let now = saturation_over_water_hpa(celsius(f64::from(tenths) / 10.0)).unwrap();
        assert!(now > held, "{tenths}");
        held = now;
    }
}

#[test]
fn frost_forms_before_dew_would() {
    // CrcHandbook: water at -10 °C (supercooled) 2.149 mmHg; ice has that pressure at -8.9 °C (between
    // its rows -9, 2.131 and -8.8, 2.168).
    let frost = frost_point(celsius(-10.0)).unwrap().celsius();
    let mut proof = Proof::of(
        "air/frost-point",
        "Frost point of supercooled air, °C",
        "CrcHandbook; the value over water from memory",
        "frost point",
        Allowed::Range("between two printed rows"),
    );
    proof.inside(frost, -8.95..=-8.8, || "°C".to_owned());
    proof.done();
    for tenths in -800..=0 {
        let dew = celsius(f64::from(tenths) / 10.0);
        let frost = frost_point(dew).unwrap();
        assert!(frost.celsius() <= 0.0 && frost.celsius() >= dew.celsius() - 0.006, "{tenths}");
        let Some(Condensation::Frost(at)) = condensation(dew) else { panic!("{tenths}") };
        assert!(at >= dew, "{tenths}");
    }
    assert_eq!(frost_point(celsius(0.001)), None);
    assert_eq!(condensation(celsius(5.0)), Some(Condensation::Dew(celsius(5.0))));
    assert_eq!(condensation(celsius(5.0)).unwrap().at(), celsius(5.0));
}

#[test]
fn just_outside_the_range_there_is_no_answer() {
    for air in [-80.01, 100.01, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(saturation_over_water_hpa(celsius(air)), None, "{air}");
        assert_eq!(saturation_slope_hpa_per_k(celsius(air)), None, "{air}");
        assert_eq!(dew_point(celsius(air), 50.0), None, "{air}");
        assert_eq!(relative_humidity_pct(celsius(air), celsius(0.0)), None, "{air}");
        assert_eq!(condensation(celsius(air)), None, "{air}");
    }
    for ice in [-80.01, 0.01, f64::NAN] {
        assert_eq!(saturation_over_ice_hpa(celsius(ice)), None, "{ice}");
    }
    assert_eq!(frost_point(celsius(-80.01)), None);
    for humidity in [0.0, -1.0, 100.01, f64::NAN] {
        assert_eq!(dew_point(celsius(20.0), humidity), None, "{humidity}");
    }
    assert!(dew_point(celsius(20.0), f64::MIN_POSITIVE).is_none());
    // A dew point that rounding put above the air.
    assert_eq!(relative_humidity_pct(celsius(10.0), celsius(10.1)), Some(100.0));
}
