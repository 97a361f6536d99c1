//! Sky: printed emissivities, the two formulas against each other, both edges.

use fairseam::physics::sky::{clark_allen1978, martin_berdahl1984, temperature, with_cloud};
use fairseam::units::Temperature;

use crate::proof::{Allowed, Proof};

fn celsius(degrees: f64) -> Temperature {
    Temperature::from_celsius(degrees)
}

#[test]
fn clark_and_allen_as_the_reference_prints_it() {
    // EnergyPlus2023, worked example: 293 K, dew point 283 K, clear: emissivity 0.815 (its logarithm
    // rounded to 0.036), infrared from the sky 340.6 W/m².
    let emissivity = clark_allen1978(Temperature::from_kelvin(283.0), 0.0).unwrap();
    let mut proof = Proof::of(
        "sun/sky-worked-example",
        "Emissivity of a clear sky, and its infrared",
        "EnergyPlus2023, worked example for ClarkAllen1978",
        "numbers",
        Allowed::Each("0.0012, 0.1 W/m²: what the example rounds"),
    );
    proof.within(emissivity, 0.815, 0.0012, || "emissivity".to_owned());
    let sky = temperature(Temperature::from_kelvin(293.0), 0.815).unwrap();
    let infrared = 5.6697e-8 * sky.kelvin().powi(4);
    proof.within(infrared, 340.6, 0.1, || "W/m²".to_owned());
    proof.done();
}

#[test]
fn martin_and_berdahl_at_the_points_where_its_terms_vanish() {
    // MartinBerdahl1984: the constant 0.711 is what is left at a dew point of 0 °C, at six in the
    // morning and at 1000 hPa; midnight adds 0.013, noon takes it; the fit's other two coefficients
    // are 0.56 and 0.73 a hundred degrees.
    let at = |dew, hour, hpa| martin_berdahl1984(celsius(dew), hour, hpa).unwrap();
    let mut proof = Proof::of(
        "sun/sky-terms",
        "Emissivity of a clear sky where terms of the formula vanish",
        "MartinBerdahl1984, its coefficients; some from memory",
        "points",
        Allowed::absolute(1e-12, ""),
    );
    for (dew, hour, hpa, expected) in [
        (0.0, 6.0, 1000.0, 0.711),
        (0.0, 0.0, 1000.0, 0.724),
        (0.0, 12.0, 1000.0, 0.698),
        (10.0, 18.0, 1000.0, 0.711 + 0.056 + 0.0073),
        (0.0, 6.0, 900.0, 0.699),
    ] {
        proof.near(at(dew, hour, hpa), expected, || format!("{dew} °C, {hour} h, {hpa} hPa"));
    }
    proof.done();
}

#[test]
fn the_two_clear_skies_agree_as_far_as_such_formulas_do() {
    // Both are fits to measurements; in moist air they lie within 0.065, which is 6 K of sky
    // temperature. In drier air Clark and Allen's sky is warmer still.
    let mut proof = Proof::of(
        "inner/two-skies",
        "Emissivity of a clear, moist sky by MartinBerdahl1984",
        "ClarkAllen1978, another fit to other measurements",
        "dew points",
        Allowed::absolute(0.065, ""),
    );
    for dew in 5..=24 {
        let dew = celsius(f64::from(dew));
        let one = martin_berdahl1984(dew, 6.0, 1000.0).unwrap();
        proof.near(one, clark_allen1978(dew, 0.0).unwrap(), || format!("{dew:?}"));
    }
    proof.done();
}

#[test]
fn cloud_warms_the_sky_up_to_but_not_over_the_air() {
    let mut proof = Proof::of(
        "sun/sky-under-cloud",
        "Share of the clear sky's gap that opaque cloud with its base at 2 km closes",
        "MartinBerdahl1984; some from memory",
        "dew points",
        Allowed::absolute(5e-4, ""),
    );
    for dew in (-30..=30).step_by(5) {
        let clear = martin_berdahl1984(celsius(f64::from(dew)), 2.0, 950.0).unwrap();
        let mut before = 0.0;
        for cover in 0..=100 {
            let now = with_cloud(clear, f64::from(cover)).unwrap();
            assert!(now > before && now <= 1.0, "{dew} {cover}: {now}");
            let sky = temperature(celsius(31.0), now).unwrap();
            assert!(!sky.is_above(celsius(31.0)));
            before = now;
        }
        // MartinBerdahl1984: opaque cloud with its base at 2 km closes exp(-2 / 8.2) of the gap.
        let closed = (before - clear) / (1.0 - clear);
        proof.near(closed, f64::exp(-2.0 / 8.2), || format!("{dew} °C"));
    }
    proof.done();
}

#[test]
fn drier_air_never_brightens_the_sky() {
    let mut before = 0.0;
    for dew in -80..=50 {
        let now = martin_berdahl1984(celsius(f64::from(dew)), 3.0, 1000.0).unwrap();
        assert!(now >= before && now <= 1.0, "{dew}");
        before = now;
    }
}

#[test]
fn just_outside_the_range_there_is_no_answer() {
    for (dew, hour, hpa) in [
        (-80.1, 6.0, 1000.0),
        (50.1, 6.0, 1000.0),
        (f64::NAN, 6.0, 1000.0),
        (10.0, -0.1, 1000.0),
        (10.0, 24.1, 1000.0),
        (10.0, f64::NAN, 1000.0),
        (10.0, 6.0, 299.9),
        (10.0, 6.0, 1100.1),
        (10.0, 6.0, f64::NAN),
    ] {
        assert_eq!(martin_berdahl1984(celsius(dew), hour, hpa), None, "{dew} {hour} {hpa}");
    }
    for (dew, cover) in
        [(-40.1, 0.0), (50.1, 0.0), (f64::NAN, 0.0), (10.0, -0.1), (10.0, 100.1), (10.0, f64::NAN)]
    {
        assert_eq!(clark_allen1978(celsius(dew), cover), None, "{dew} {cover}");
    }
    for (clear, cover) in
        [(-0.01, 0.0), (1.01, 0.0), (f64::NAN, 0.0), (0.8, -0.1), (0.8, 100.1), (0.8, f64::NAN)]
    {
        assert_eq!(with_cloud(clear, cover), None, "{clear} {cover}");
    }
    for (air, emissivity) in
        [(60.1, 0.8), (-90.1, 0.8), (f64::NAN, 0.8), (20.0, 0.0), (20.0, 1.01), (20.0, f64::NAN)]
    {
        assert_eq!(temperature(celsius(air), emissivity), None, "{air} {emissivity}");
    }
}
