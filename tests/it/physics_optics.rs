//! Optics: measured sheets, the aging equation, presets against explicit numbers.

use fairseam::physics::optics::{Optics, Preset};

use crate::proof::{Allowed, Proof};

#[test]
fn presets_are_the_measured_sheets_and_age_by_the_code() {
    // Lbnl2000: white single-ply 0.83 and 0.92; black single-ply 0.06 and 0.86.
    let white = Preset::White.optics(false);
    let mut proof = Proof::of(
        "sheet/optics-measured",
        "Reflectance and emittance of white and black sheet",
        "Lbnl2000, measured sheets",
        "sheets",
        Allowed::Nothing,
    );
    let shares = |sheet: Optics| (sheet.solar_reflectance(), sheet.thermal_emittance());
    proof.same(&shares(white), &(0.83, 0.92), || "white".to_owned());
    let black = Preset::Black.optics(false);
    proof.same(&shares(black), &(0.06, 0.86), || "black".to_owned());
    proof.done();
    // Cec2022, 110.8(i): aged = 0.2 + 0.7 (new - 0.2); its low-slope limit of 0.63 aged is just that
    // of a new 0.81, as the white sheet's should be above.
    let mut proof = Proof::of(
        "sheet/optics-aged",
        "Reflectance of aged white and black sheet",
        "Cec2022, 110.8(i), by hand",
        "sheets",
        Allowed::absolute(1e-12, ""),
    );
    let aged = |preset: Preset| preset.optics(true).solar_reflectance();
    proof.near(aged(Preset::White), 0.641, || "white".to_owned());
    proof.near(aged(Preset::Black), 0.102, || "black".to_owned());
    proof.done();
    assert!(Preset::White.optics(true).solar_reflectance() >= 0.63);
}

#[test]
fn aging_closes_in_on_a_fifth_and_keeps_the_order_of_colors() {
    let order = [Preset::White, Preset::Tan, Preset::Gray, Preset::Black];
    for aged in [false, true] {
        for pair in order.windows(2) {
            assert!(
                pair[0].optics(aged).solar_reflectance() > pair[1].optics(aged).solar_reflectance(),
                "{pair:?} {aged}"
            );
        }
    }
    for preset in Preset::ALL {
        let (new, aged) = (preset.optics(false), preset.optics(true));
        let nearer = (aged.solar_reflectance() - 0.2).abs() < (new.solar_reflectance() - 0.2).abs();
        assert!(nearer && aged.thermal_emittance() == new.thermal_emittance(), "{preset:?}");
        assert!((new.solar_absorptance() + new.solar_reflectance() - 1.0).abs() < 1e-12);
    }
}

#[test]
fn a_measured_number_takes_the_presets_place() {
    let sheet = Optics::of_sheet(Preset::Tan, true, Some(0.75), None).unwrap();
    assert_eq!((sheet.solar_reflectance(), sheet.thermal_emittance()), (0.75, 0.90));
    let sheet = Optics::of_sheet(Preset::Tan, false, None, Some(0.88)).unwrap();
    assert_eq!((sheet.solar_reflectance(), sheet.thermal_emittance()), (0.58, 0.88));
    assert_eq!(Optics::of_sheet(Preset::Tan, true, None, None), Some(Preset::Tan.optics(true)));
}

#[test]
fn shares_are_from_zero_to_one() {
    assert!(Optics::new(0.0, 1.0).is_some() && Optics::new(1.0, 0.0).is_some());
    for (reflectance, emittance) in
        [(-0.01, 0.9), (1.01, 0.9), (0.5, -0.01), (0.5, 1.01), (f64::NAN, 0.9), (0.5, f64::NAN)]
    {
        assert_eq!(Optics::new(reflectance, emittance), None, "{reflectance} {emittance}");
        assert_eq!(
            Optics::of_sheet(Preset::White, false, Some(reflectance), Some(emittance)),
            None
        );
    }
}
