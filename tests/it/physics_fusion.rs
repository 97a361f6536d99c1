//! Hot air on a sheet's face, against the textbooks, scipy and the exact series of a slab.

use fairseam::physics::fusion::{
    FaceShare, Heater, PP_BASED, PVC, Plastic, Solid, Surroundings, air_for_speed, air_per_speed,
    face_share, heated_fraction, speed_gain_per_kelvin, window_center_shift,
};
use fairseam::units::{Temperature, TemperatureDifference, TravelSpeed};

use crate::number_table::rows;
use crate::proof::{Allowed, Proof};

const HOT_AIR: &str = include_str!("../fixtures/reference/hot_air.csv");
const SLAB: &str = include_str!("../fixtures/reference/slab.csv");

fn fahrenheit(degrees: f64) -> Temperature {
    Temperature::from_fahrenheit(degrees)
}

fn speed(feet_per_minute: f64) -> TravelSpeed {
    TravelSpeed::from_feet_per_minute(feet_per_minute)
}

/// A share with a given θ, by bisection on b.
fn share_of(theta: f64) -> FaceShare {
    let (mut low, mut high) = (1e-6, 100.0);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if FaceShare::from_b(middle).unwrap().fraction() < theta {
            low = middle;
        } else {
            high = middle;
        }
    }
    FaceShare::from_b(low).unwrap()
}

#[test]
fn a_thick_solid_heats_as_the_textbooks_say() {
    // Nellis and Klein, Heat Transfer, table 3-2, worked at fchart.com: 393 K, air 355 K, h 50,
    // k 10, diffusivity 4.029e-6, 3 mm deep, 100 s: 389.5 K.
    let solid =
        Solid { conductivity_w_mk: 10.0, density_kg_m3: 10.0 / 4.029e-6, heat_capacity_j_kgk: 1.0 };
    let theta = heated_fraction(solid, 50.0, 100.0, 0.003).unwrap();
    let inside_k = 393.0 + theta * (355.0 - 393.0);
    let mut proof = Proof::of(
        "heat/thick-solid-textbook",
        "Warming of a thick solid below its face",
        "the examples of two textbooks on heat transfer; one from memory, off a chart",
        "examples",
        Allowed::Each("the last printed digit; 0.03 off the chart"),
    );
    proof.within(inside_k, 389.5, 0.06, || "K".to_owned());
    // Holman, Heat Transfer, example 4-5, from memory: aluminum from 200 °C under 70 °C, h 525,
    // k 215, diffusivity 8.4e-5, 4 cm deep at 3000 s: 120 °C as read off a chart, θ 0.615.
    let slab =
        Solid { conductivity_w_mk: 215.0, density_kg_m3: 215.0 / 8.4e-5, heat_capacity_j_kgk: 1.0 };
    let read_off = heated_fraction(slab, 525.0, 3000.0, 0.04).unwrap();
    proof.within(read_off, 0.615, 0.03, || "share".to_owned());
    proof.done();
}

#[test]
fn a_thick_solid_heats_as_its_laplace_image_says() {
    let mut proof = Proof::of(
        "heat/thick-solid",
        "Warming of a thick solid at its face and below",
        "numerical inverse of its Laplace image, tests/reference/people_power.py",
        "values",
        Allowed::absolute(1e-9, "of the rise"),
    );
    for [k, rho_cp, film, seconds, depth, expected] in rows::<6>(HOT_AIR) {
        let solid = Solid { conductivity_w_mk: k, density_kg_m3: rho_cp, heat_capacity_j_kgk: 1.0 };
        let got = heated_fraction(solid, film, seconds, depth).unwrap();
        proof.near(got, expected, || format!("h {film}, {seconds} s, {depth} m"));
        if depth == 0.0 {
            let face = FaceShare::of_pass(solid, film, seconds).unwrap().fraction();
            proof.near(face, expected, || format!("h {film}, {seconds} s"));
        }
    }
    proof.done();
}

#[test]
fn the_far_side_of_a_sheet_does_not_matter_within_the_longest_dwell() {
    let mut checked = 0;
    let mut proof = Proof::of(
        "heat/sheet-as-thick-solid",
        "A sheet taken for endlessly thick, for one pass of a welder",
        "exact series of a slab, tests/reference/people_power.py",
        "passes",
        Allowed::Each("2e-5 up to 1.5 s, 0.7 % up to 4 s"),
    );
    for [thickness, k, rho_cp, film, seconds, expected] in rows::<6>(SLAB) {
        let solid = Solid { conductivity_w_mk: k, density_kg_m3: rho_cp, heat_capacity_j_kgk: 1.0 };
        let thick = FaceShare::of_pass(solid, film, seconds).unwrap().fraction();
        let missed = (expected - thick) / expected;
        match seconds {
            // One pass of an automatic welder: 0.045 m at 5.9 ft/min take 1.5 s.
            s if s <= 1.5 => proof.within(missed, 0.0, 2e-5, || format!("{thickness} m, {s} s")),
            s if s <= 4.0 => proof.within(missed, 0.0, 0.007, || format!("{thickness} m, {s} s")),
            // Beyond the range the far side is felt in the thinnest sheet.
            s if thickness < 0.0012 => assert!(missed > 0.04, "{thickness} m, {s} s: {missed}"),
            _ => continue,
        }
        checked += 1;
    }
    assert_eq!(checked, 22);
    proof.done();
}

#[test]
fn warmth_falls_with_depth_and_rises_with_time_and_film() {
    for tenth_mm in 0..30 {
        let depth = f64::from(tenth_mm) * 1e-4;
        for tenths in 1..40 {
            let seconds = f64::from(tenths) / 10.0;
            let here = heated_fraction(PVC.nominal, 285.0, seconds, depth).unwrap();
            let deeper = heated_fraction(PVC.nominal, 285.0, seconds, depth + 1e-4).unwrap();
            let later = heated_fraction(PVC.nominal, 285.0, seconds + 0.1, depth).unwrap();
            let harder = heated_fraction(PVC.nominal, 300.0, seconds, depth).unwrap();
            assert!((0.0..1.0).contains(&here), "{here}");
            assert!(deeper <= here && later >= here && harder >= here, "{depth} m, {seconds} s");
        }
    }
}

#[test]
fn values_without_meaning_give_nothing() {
    let pvc = PVC.nominal;
    for (film, seconds, depth) in [
        (0.0, 1.0, 0.0),
        (-1.0, 1.0, 0.0),
        (f64::NAN, 1.0, 0.0),
        (285.0, 0.0, 0.0),
        (285.0, -1.0, 0.0),
        (285.0, f64::INFINITY, 0.0),
        (285.0, 1.0, -1e-9),
        (285.0, 1.0, f64::NAN),
    ] {
        assert_eq!(heated_fraction(pvc, film, seconds, depth), None, "{film} {seconds} {depth}");
    }
    for b in [0.0, -0.1, 1000.1, f64::NAN] {
        assert_eq!(FaceShare::from_b(b), None, "{b}");
    }
    assert!(FaceShare::from_b(1000.0).unwrap().fraction() < 1.0);
    let share = FaceShare::from_b(0.5).unwrap();
    for ratio in [0.0, -1.0, f64::NAN] {
        assert_eq!(share.at_speed_ratio(ratio), None, "{ratio}");
    }
    // Both edges of the dwell: 0.045 m in 4 s is 2.2146 ft/min, in 0.1 s 88.58.
    for (feet_per_minute, inside) in
        [(2.21, false), (2.22, true), (88.5, true), (88.7, false), (0.0, false), (-5.0, false)]
    {
        assert_eq!(face_share(PVC, speed(feet_per_minute)).is_some(), inside, "{feet_per_minute}");
    }
    assert_eq!(face_share(PVC, speed(f64::NAN)), None);
    let air = fahrenheit(900.0);
    assert_eq!(air_per_speed(share, air, air, speed(10.0)), None);
    assert_eq!(air_per_speed(share, air, fahrenheit(80.0), speed(0.0)), None);
    assert_eq!(air_for_speed(share, air, fahrenheit(80.0), speed(10.0), speed(0.0)), None);
    assert_eq!(air_for_speed(share, air, fahrenheit(950.0), speed(10.0), speed(11.0)), None);
    assert_eq!(speed_gain_per_kelvin(share, Heater::FixedPower, air, fahrenheit(901.0)), None);
}

#[test]
fn the_assumed_materials_are_the_published_ones() {
    // √(0.17·1300·1500) = 576 and √(0.22·950·2000) = 647, by hand.
    let mut proof = Proof::of(
        "heat/plastics",
        "Thermal data of PVC and polypropylene",
        "PlasticData, and √(kρc) by hand",
        "values",
        Allowed::Each("rounding by hand"),
    );
    proof.within(PVC.nominal.effusivity(), 576.0, 0.5, || "PVC".to_owned());
    proof.within(PP_BASED.nominal.effusivity(), 647.0, 0.7, || "PP".to_owned());
    // Springer handbook, table 3.3-6: polypropylene 0.22 W/(m·K) below 100 °C, 0.20 at 150 °C;
    // heat capacity 1680, 1920, 2350 J/(kg·K) at 20, 50, 100 °C.
    proof.within(PP_BASED.least.heat_capacity_j_kgk, 1680.0, 1e-9, || "least".to_owned());
    proof.within(PP_BASED.most.heat_capacity_j_kgk, 2350.0, 1e-9, || "most".to_owned());
    proof.done();
    for plastic in [PVC, PP_BASED] {
        let Plastic { least, nominal, most } = plastic;
        assert!(least.effusivity() < nominal.effusivity());
        assert!(nominal.effusivity() < most.effusivity());
    }
}

#[test]
fn the_nominal_share_agrees_with_the_trades_start_speed_rule() {
    // The rule (air in °F over ten plus two, ft/min) is a setting that holds the same face over
    // the year. With 460 °C of air and a face of 190 °C it asks for these shares at the lap.
    let mut proof = Proof::of(
        "heat/start-speed-rule",
        "The model's share of a pass over the year's speeds; its film coefficient was chosen by them",
        "the start-speed rule, *common practice*",
        "speeds",
        Allowed::absolute(0.03, "of the rise"),
    );
    for (air_f, feet_per_minute) in [(40.0, 6.0), (60.0, 8.0), (80.0, 10.0), (110.0, 13.0)] {
        let sheet_c = fahrenheit(air_f).celsius();
        let asked = (190.0 - sheet_c) / (460.0 - sheet_c);
        let range = face_share(PVC, speed(feet_per_minute)).unwrap();
        let (low, high) = (range.low.fraction(), range.high.fraction());
        assert!(low < asked && asked < high, "{air_f} °F: {low} < {asked} < {high}");
        proof.near(range.nominal.fraction(), asked, || format!("{air_f} °F"));
    }
    proof.done();
}

#[test]
fn a_faster_welder_heats_the_face_less() {
    for plastic in [PVC, PP_BASED] {
        let mut last = 1.0;
        for feet_per_minute in 3..=40 {
            let range = face_share(plastic, speed(f64::from(feet_per_minute))).unwrap();
            let nominal = range.nominal.fraction();
            assert!(nominal < last);
            assert!(range.low.fraction() < nominal && nominal < range.high.fraction());
            last = nominal;
        }
    }
    // b goes with speed^-½: four times the speed is half of b.
    let share = FaceShare::from_b(0.48).unwrap();
    assert!((share.at_speed_ratio(4.0).unwrap().b() - 0.24).abs() < 1e-12);
}

#[test]
fn the_ratio_is_what_keeps_the_face() {
    for hundredths in 5..95 {
        let share = share_of(f64::from(hundredths) / 100.0);
        let theta = share.fraction();
        // Face = sheet + θ·(air − sheet). Sheet 1 lower, air higher by the ratio: same face.
        let (air, sheet) = (500.0, 30.0);
        let before = sheet + theta * (air - sheet);
        let (cooler, hotter) = (sheet - 1.0, air + share.air_rise_per_sheet_drop());
        let after = cooler + theta * (hotter - cooler);
        assert!((before - after).abs() < 1e-9, "θ {theta}");
    }
    // θ of the rule at 40, 80 and 110 °F with 460 °C of air and a face of 190 °C, by hand:
    // (1 − θ)/θ = (460 − 190)/(190 − sheet) = 1.455, 1.653, 1.841.
    let mut proof = Proof::of(
        "heat/air-for-sheet",
        "Heat that makes up for a colder sheet, as a ratio",
        "worked by hand from the balance of the face",
        "sheets",
        Allowed::absolute(0.001, ""),
    );
    for (sheet_f, expected) in [(40.0, 1.455), (80.0, 1.653), (110.0, 1.841)] {
        let sheet_c = fahrenheit(sheet_f).celsius();
        let share = share_of((190.0 - sheet_c) / (460.0 - sheet_c));
        proof.near(share.air_rise_per_sheet_drop(), expected, || format!("{sheet_f} °F"));
    }
    proof.done();
}

#[test]
fn slopes_match_finite_differences() {
    let difference = 1e-5;
    for hundredths in 10..150 {
        let b = f64::from(hundredths) / 100.0;
        let at = |b: f64| FaceShare::from_b(b).unwrap();
        let by_steps =
            (at(b + difference).fraction() - at(b - difference).fraction()) / (2.0 * difference);
        assert!((at(b).slope() - by_steps).abs() < 1e-8, "b {b}");
        for feet_per_minute in [4.0, 10.0, 18.0] {
            let (air, sheet) = (fahrenheit(925.0), fahrenheit(80.0));
            let step = 1e-3;
            let to = |by: f64| {
                let there = speed(feet_per_minute + by);
                air_for_speed(at(b), air, sheet, speed(feet_per_minute), there).unwrap()
            };
            let by_steps = (to(step).kelvin() - to(-step).kelvin()) / (2.0 * step);
            let slope = air_per_speed(at(b), air, sheet, speed(feet_per_minute)).unwrap();
            assert!((slope.kelvin() / by_steps - 1.0).abs() < 1e-4, "b {b}, {feet_per_minute}");
        }
    }
}

#[test]
fn the_speed_gain_keeps_the_face() {
    for heater in [Heater::TemperatureControlled, Heater::FixedPower] {
        for hundredths in 20..100 {
            let share = FaceShare::from_b(f64::from(hundredths) / 100.0).unwrap();
            let (air, sheet) = (500.0, 27.0);
            let face =
                |air: f64, sheet: f64, share: FaceShare| sheet + share.fraction() * (air - sheet);
            let gain = speed_gain_per_kelvin(
                share,
                heater,
                Temperature::from_celsius(air),
                Temperature::from_celsius(sheet),
            );
            let warmer = 0.01;
            let faster = share.at_speed_ratio((gain.unwrap() * warmer).exp()).unwrap();
            let air_follows = if heater == Heater::FixedPower { warmer } else { 0.0 };
            let moved = face(air + air_follows, sheet + warmer, faster) - face(air, sheet, share);
            // What the warmer sheet would have moved is undone to second order.
            assert!(moved.abs() < warmer * 1e-3, "{heater:?}, b {}: {moved}", share.b());
        }
    }
}

#[test]
fn exchange_rates_at_80_f_and_10_feet_a_minute() {
    // The rule's share at 80 °F: 163.33/433.33. By hand from it: 100 °F of air move the face by
    // 38 °F, 1 ft/min by 9.9 °F, so that 100 °F of air are worth about 3.8 ft/min.
    let share = share_of(163.33 / 433.33);
    let (air, sheet) = (Temperature::from_celsius(460.0), fahrenheit(80.0));
    let worth = air_per_speed(share, air, sheet, speed(10.0)).unwrap().fahrenheit();
    let mut proof = Proof::of(
        "heat/exchange-rates",
        "What a foot a minute is worth in heat, and 100 °F in speed",
        "worked by hand at 80 °F and 10 ft/min",
        "rates",
        Allowed::Each("the last digit worked"),
    );
    proof.within(worth * share.fraction(), 9.9, 0.1, || "°F of the face".to_owned());
    proof.within(100.0 / worth, 3.8, 0.05, || "ft/min".to_owned());
    proof.done();
    // Per °F of sheet: 0.55 to 0.70 % of speed with a controlled heater, 0.93 to 1.09 % without.
    let gain = |heater| speed_gain_per_kelvin(share, heater, air, sheet).unwrap() / 1.8;
    assert!((0.0055..=0.0070).contains(&gain(Heater::TemperatureControlled)));
    assert!((0.0093..=0.0109).contains(&gain(Heater::FixedPower)));
}

#[test]
fn a_cloud_moves_the_middle_of_the_window_up() {
    // A tan sheet that loses 13.7 K to a cloud in still air of the same temperature: 40 °F of air
    // at a θ of 0.38, by hand 13.7·1.8·0.62/0.38.
    let range = face_share(PVC, speed(10.0)).unwrap();
    let then = Surroundings { sheet: fahrenheit(110.0), ambient: fahrenheit(80.0) };
    let sheet = then.sheet - TemperatureDifference::from_kelvin(13.7);
    let now = Surroundings { sheet, ..then };
    let shift = window_center_shift(range, Heater::TemperatureControlled, then, now);
    let mut proof = Proof::of(
        "heat/cloud",
        "Shift of the window when a cloud cools a tan sheet",
        "worked by hand",
        "shift",
        Allowed::absolute(3.0, "°F"),
    );
    proof.near(shift.nominal.fahrenheit(), 40.0, || format!("{shift:?}"));
    proof.done();
    let ratio = range.nominal.air_rise_per_sheet_drop();
    assert!((shift.nominal.kelvin() - 13.7 * ratio).abs() < 1e-9);
    assert!(shift.low < shift.nominal && shift.nominal < shift.high);
    // Back again, all signs turn.
    let back = window_center_shift(range, Heater::TemperatureControlled, now, then);
    assert!((back.nominal.kelvin() + shift.nominal.kelvin()).abs() < 1e-9);
    assert!((back.low.kelvin() + shift.high.kelvin()).abs() < 1e-9);
    // Nothing moved: nothing to move.
    let still = window_center_shift(range, Heater::FixedPower, then, then);
    assert!(still.low.kelvin() == 0.0 && still.high.kelvin() == 0.0);
}

#[test]
fn a_heater_of_fixed_power_also_makes_up_for_ambient() {
    let range = face_share(PP_BASED, speed(8.0)).unwrap();
    let then = Surroundings { sheet: fahrenheit(75.0), ambient: fahrenheit(70.0) };
    let now = Surroundings { sheet: fahrenheit(65.0), ambient: fahrenheit(60.0) };
    let shift = |heater| window_center_shift(range, heater, then, now).nominal.fahrenheit();
    let controlled = shift(Heater::TemperatureControlled);
    let fixed = shift(Heater::FixedPower);
    // By hand: sheet and air both fall by 10 °F, so a fixed rise must grow by 10/θ.
    let theta = range.nominal.fraction();
    let mut proof = Proof::of(
        "heat/fixed-power",
        "Shift of the window of a heater without control, and of one with it, when sheet and air fall alike",
        "the balance of the face, worked by hand",
        "shifts",
        Allowed::absolute(1e-9, "°F"),
    );
    proof.near(fixed, 10.0 / theta, || "fixed power".to_owned());
    proof.near(fixed - controlled, 10.0, || "controlled".to_owned());
    proof.done();
    // At any reach of the jet the balance closes: sheet + θ·(ambient + reach·rise − sheet).
    for sheet_drop in -20..20 {
        for ambient_drop in -20..20 {
            let later = Surroundings {
                sheet: fahrenheit(75.0 - f64::from(sheet_drop)),
                ambient: fahrenheit(70.0 - f64::from(ambient_drop)),
            };
            let moved = window_center_shift(range, Heater::TemperatureControlled, then, later);
            assert!(moved.low <= moved.nominal && moved.nominal <= moved.high);
            let corner = |share: FaceShare, reach: f64| {
                // The setting that gives the same face, solved from the two balances.
                let theta = share.fraction();
                let face = |at: Surroundings, setting: f64| {
                    let (sheet, ambient) = (at.sheet.celsius(), at.ambient.celsius());
                    sheet + theta * (ambient + reach * (setting - ambient) - sheet)
                };
                let (target, slope) = (face(then, 500.0), theta * reach);
                (target - face(later, 500.0)) / slope
            };
            let corners = [
                corner(range.low, 0.7),
                corner(range.low, 1.0),
                corner(range.high, 0.7),
                corner(range.high, 1.0),
            ];
            for solved in corners {
                assert!(solved >= moved.low.kelvin() - 1e-9, "{solved} below {moved:?}");
                assert!(solved <= moved.high.kelvin() + 1e-9, "{solved} above {moved:?}");
            }
        }
    }
}
