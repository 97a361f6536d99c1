//! Cords and generators, against the code's table, worked examples and nodal analysis.

use fairseam::physics::cord::{
    BRANCH_DROP, Conductor, CordRun, NEC_CONDUCTOR_TEMPERATURE, TOTAL_DROP, WelderLoad,
    alternator_factor, check_cord, check_generator, engine_factor_by_air, engine_factor_by_rule,
    longest_cord,
};
use fairseam::units::{Length, Temperature, TemperatureDifference};

use crate::number_table::rows;
use crate::proof::{Allowed, Proof};

const COPPER: &str = include_str!("../fixtures/people_power/copper_resistance.csv");
const CORD_LOAD: &str = include_str!("../fixtures/reference/cord_load.csv");
const METERS_PER_KILOFOOT: f64 = 304.8;

fn celsius(degrees: f64) -> Temperature {
    Temperature::from_celsius(degrees)
}

fn ohms_per_kilofoot(gauge: u32, at: f64) -> f64 {
    Conductor::Awg(gauge).ohms_per_km(celsius(at)).unwrap() * METERS_PER_KILOFOOT / 1000.0
}

fn cord(gauge: u32, feet: f64) -> CordRun {
    CordRun {
        conductor: Conductor::Awg(gauge),
        length: Length::from_feet(feet),
        copper: NEC_CONDUCTOR_TEMPERATURE,
    }
}

/// A welder that draws `amps` at `volts`.
fn welder(volts: f64, amps: f64) -> WelderLoad {
    WelderLoad { rated_watts: volts * amps, rated_volts: volts }
}

#[test]
fn stranded_copper_matches_the_codes_table() {
    // NEC chapter 9, table 8, copper, uncoated, stranded, 75 °C, Ω per 1000 ft.
    #[expect(clippy::approx_constant, reason = "3.14 Ω, not π")]
    const TABLE_8: &[(u32, f64)] = &[
        (18, 7.95),
        (16, 4.99),
        (14, 3.14),
        (12, 1.98),
        (10, 1.24),
        (8, 0.778),
        (6, 0.491),
        (4, 0.308),
        (2, 0.194),
        (1, 0.154),
        (0, 0.122),
    ];
    let mut proof = Proof::of(
        "power/copper-code",
        "Stranded copper at 75 °C",
        "NEC2023, chapter 9, table 8",
        "sizes",
        Allowed::Relative(0.008),
    );
    for &(gauge, expected) in TABLE_8 {
        proof.near(ohms_per_kilofoot(gauge, 75.0), expected, || format!("{gauge} AWG"));
    }
    proof.done();
}

#[test]
fn every_copper_row_holds_over_its_temperatures() {
    let table = rows::<5>(COPPER);
    assert_eq!(table.len(), 40);
    let mut code = Proof::of(
        "power/copper-code-temperatures",
        "Stranded copper over temperature",
        "NEC2023, chapter 9, table 8, moved by the table's own note",
        "rows",
        Allowed::Relative(0.008),
    );
    let mut solid = Proof::of(
        "power/copper-solid",
        "Stranded copper over temperature, from solid copper with 2 % added for the strands",
        "NBS100; rows for 10, 8 and 6 AWG from memory",
        "rows",
        Allowed::Relative(0.004),
    );
    for [gauge, _, at, nec_stranded, nbs_solid] in table {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a gauge")]
        let got = ohms_per_kilofoot(gauge as u32, at);
        // The code's rows, moved from 75 °C by its own note R2 = R1[1 + 0.00323(T2 − 75)].
        code.near(got, nec_stranded, || format!("{gauge} AWG, {at} °C"));
        // NBS Handbook 100 gives solid wire; strands are 2 % longer.
        solid.near(got, nbs_solid * 1.02, || format!("{gauge} AWG, {at} °C"));
    }
    code.done();
    solid.done();
}

#[test]
fn metric_copper_matches_the_standards_table() {
    // IEC 60228, table 3, class 5 plain copper: the greatest Ω/km at 20 °C.
    const CLASS_5: &[(f64, f64)] =
        &[(1.5, 13.3), (2.5, 7.98), (4.0, 4.95), (6.0, 3.30), (10.0, 1.91), (16.0, 1.21)];
    let mut proof = Proof::of(
        "power/copper-metric",
        "Flexible copper, 1.5 to 16 mm²",
        "IEC60228, table 3, class 5",
        "sizes",
        Allowed::absolute(1e-9, "Ω/km"),
    );
    for &(area, expected) in CLASS_5 {
        let got = Conductor::SquareMillimeters(area).ohms_per_km(celsius(20.0)).unwrap();
        proof.near(got, expected, || format!("{area} mm²"));
    }
    proof.done();
    let mut last = f64::INFINITY;
    for tenths in 15..=160 {
        let area = f64::from(tenths) / 10.0;
        let got = Conductor::SquareMillimeters(area).ohms_per_km(celsius(20.0)).unwrap();
        assert!(got <= last, "{area} mm²");
        // No less than copper itself: 17.241 Ω·mm²/km (IEC 60028).
        assert!(got * area > 17.241, "{area} mm²");
        last = got;
    }
}

#[test]
fn sizes_and_temperatures_beyond_the_tables_give_nothing() {
    let at_20 = celsius(20.0);
    assert!(Conductor::Awg(18).ohms_per_km(at_20).is_some());
    assert_eq!(Conductor::Awg(19).ohms_per_km(at_20), None);
    for area in [1.49, 16.01, 0.0, -4.0, f64::NAN, f64::INFINITY] {
        assert_eq!(Conductor::SquareMillimeters(area).ohms_per_km(at_20), None, "{area}");
    }
    for (at, inside) in [(-40.0, true), (90.0, true), (-40.1, false), (90.1, false)] {
        assert_eq!(Conductor::Awg(10).ohms_per_km(celsius(at)).is_some(), inside, "{at}");
    }
    assert_eq!(Conductor::Awg(10).ohms_per_km(celsius(f64::NAN)), None);
    let load = welder(230.0, 20.0);
    for feet in [0.0, -100.0, f64::NAN, f64::INFINITY] {
        assert_eq!(check_cord(load, 230.0, cord(10, feet)), None, "{feet} ft");
    }
    for volts in [0.0, -230.0, f64::NAN, f64::INFINITY] {
        assert_eq!(check_cord(load, volts, cord(10, 100.0)), None, "{volts} V");
        assert_eq!(check_cord(welder(volts, 20.0), 230.0, cord(10, 100.0)), None, "{volts} V");
    }
    for fraction in [0.0, 1.0, -0.1, f64::NAN] {
        let longest = longest_cord(load, Conductor::Awg(10), NEC_CONDUCTOR_TEMPERATURE, fraction);
        assert_eq!(longest, None, "{fraction}");
    }
}

#[test]
fn drops_match_worked_examples() {
    // By hand with the code's table: 2 · length in kft · Ω/kft · A. (V, A, AWG, ft, V dropped)
    const WORKED: &[(f64, f64, u32, f64, f64)] = &[
        (230.0, 20.0, 10, 100.0, 4.96),
        (240.0, 30.0, 10, 100.0, 7.44),
        (120.0, 15.0, 12, 100.0, 5.94),
    ];
    let mut proof = Proof::of(
        "power/cord-drops",
        "Voltage lost in a cord by the textbook's formula",
        "worked by hand with NEC2023, table 8",
        "cords",
        Allowed::Relative(0.008),
    );
    for &(volts, amps, gauge, feet, expected) in WORKED {
        let check = check_cord(welder(volts, amps), volts, cord(gauge, feet)).unwrap();
        proof.near(check.rated_drop_volts, expected, || format!("{volts} V {amps} A"));
        assert!(check.drop_volts < check.rated_drop_volts);
    }
    proof.done();
    // The last of them as a resistance: 8 Ω and 0.396 Ω in series, by hand 4.7 % and 90.8 % power.
    let check = check_cord(welder(120.0, 15.0), 120.0, cord(12, 100.0)).unwrap();
    let mut proof = Proof::of(
        "power/cord-resistance",
        "Voltage, power and heat that a welder loses on 100 ft of 12 AWG",
        "worked by hand as two resistances in series",
        "numbers",
        Allowed::Each("the digits worked by hand"),
    );
    proof.within(check.drop_fraction, 0.047, 0.0006, || "drop".to_owned());
    proof.within(check.watts_fraction, 0.908, 0.001, || "watts".to_owned());
    // On a rise of 900 °F that is 83 °F of air, by hand 900·(1 − 0.953²).
    let lost = check.lost_rise(TemperatureDifference::from_fahrenheit(900.0));
    proof.within(lost.most.fahrenheit(), 83.0, 1.0, || "most".to_owned());
    proof.within(lost.least.fahrenheit(), 42.3, 0.6, || "least".to_owned());
    proof.done();
}

#[test]
fn the_loop_matches_nodal_analysis() {
    let mut proof = Proof::of(
        "power/cord-loop",
        "Current, voltages and power of cord and welder",
        "nodal analysis by numpy 2.4.6, tests/reference/people_power.py",
        "numbers",
        Allowed::Relative(1e-9),
    );
    for [watts, volts, supply, one_way, amps, drop, at_welder, welder_watts] in rows::<8>(CORD_LOAD)
    {
        // A cord whose one conductor has the table's resistance.
        let copper = celsius(40.0);
        let conductor = Conductor::Awg(10);
        let length = Length::from_meters(one_way / conductor.ohms_per_km(copper).unwrap() * 1000.0);
        let load = WelderLoad { rated_watts: watts, rated_volts: volts };
        let got = check_cord(load, supply, CordRun { conductor, length, copper }).unwrap();
        for (name, value, expected) in [
            ("amps", got.amps, amps),
            ("drop", got.drop_volts, drop),
            ("volts", got.volts_at_welder, at_welder),
            ("watts", got.watts_at_welder, welder_watts),
            (
                "share of watts",
                got.watts_fraction,
                welder_watts / (supply * supply / volts / volts * watts),
            ),
        ] {
            proof.near(value, expected, || name.to_owned());
        }
    }
    proof.done();
}

#[test]
fn longer_thinner_and_warmer_cords_starve_the_welder() {
    let load = WelderLoad { rated_watts: 5200.0, rated_volts: 230.0 };
    let watts = |run| check_cord(load, 230.0, run).unwrap().watts_at_welder;
    for gauge in (6..=14).step_by(2) {
        for feet in (10..300).step_by(10) {
            let here = watts(cord(gauge, f64::from(feet)));
            assert!(watts(cord(gauge, f64::from(feet + 10))) < here);
            assert!(watts(cord(gauge + 2, f64::from(feet))) < here);
            let cool = CordRun { copper: celsius(20.0), ..cord(gauge, f64::from(feet)) };
            assert!(watts(cool) > here);
            assert!(here < 5200.0);
        }
    }
}

#[test]
fn the_longest_cord_drops_exactly_what_is_allowed() {
    let load = WelderLoad { rated_watts: 5200.0, rated_volts: 230.0 };
    // NEC 210.19 and 215.2, informational: 3 % on a branch, 5 % in all; from memory.
    let mut proof = Proof::of(
        "power/cord-limits",
        "Voltage drop to keep to on a branch and in all",
        "NEC2023, notes to 210 and 215; from memory",
        "limits",
        Allowed::absolute(1e-12, ""),
    );
    proof.near(BRANCH_DROP, 0.03, || "branch".to_owned());
    proof.near(TOTAL_DROP, 0.05, || "total".to_owned());
    proof.done();
    for allowed in [BRANCH_DROP, TOTAL_DROP, 0.2] {
        for gauge in [8, 10, 12] {
            let conductor = Conductor::Awg(gauge);
            let longest =
                longest_cord(load, conductor, NEC_CONDUCTOR_TEMPERATURE, allowed).unwrap();
            let check = check_cord(load, 230.0, cord(gauge, longest.feet())).unwrap();
            assert!((check.drop_fraction - allowed).abs() < 1e-12, "{gauge} AWG");
        }
    }
}

#[test]
fn engines_lose_power_in_thin_and_hot_air() {
    let rule = |feet, f| {
        engine_factor_by_rule(Length::from_feet(feet), Temperature::from_fahrenheit(f)).unwrap()
    };
    // *Common practice*: 3.5 % per 1000 ft, 1 % per 10 °F above 77 °F, by hand.
    let mut proof = Proof::of(
        "power/engine-rule",
        "Power that an engine keeps in height and heat",
        "*common practice*: 3.5 % for 1000 ft, 1 % for 10 °F above 77 °F, by hand",
        "places",
        Allowed::absolute(1e-9, ""),
    );
    proof.near(rule(5000.0, 77.0), 0.825, || "high".to_owned());
    proof.near(rule(0.0, 97.0), 0.98, || "hot".to_owned());
    proof.near(rule(2000.0, 107.0), 0.93 * 0.97, || "both".to_owned());
    proof.near(rule(-100.0, 20.0), 1.0, || "cold".to_owned());
    proof.done();
    // The air itself: pressure at 5000 ft 12.228 psi of 14.696 (ICAO standard atmosphere), 25 °C.
    let air = |feet, c| engine_factor_by_air(Length::from_feet(feet), celsius(c)).unwrap();
    let mut proof = Proof::of(
        "power/engine-air",
        "Share of an engine's air at 5000 ft",
        "ICAO7488, pressure of the standard atmosphere",
        "height",
        Allowed::absolute(2e-4, ""),
    );
    proof.near(air(5000.0, 25.0), 12.228 / 14.696, || "5000 ft".to_owned());
    proof.done();
    assert!((air(0.0, -20.0) - 1.0).abs() < 1e-12);
    // The two agree within 2 % of the rating from the sea to 6000 ft.
    let mut proof = Proof::of(
        "inner/engine-rule-air",
        "The rule for engines",
        "the air that they get, from the sea to 6000 ft",
        "places",
        Allowed::absolute(0.02, "of the rating"),
    );
    for feet in (0..=6000).step_by(500) {
        for degrees in [25.0, 35.0, 40.0] {
            let by_rule =
                engine_factor_by_rule(Length::from_feet(f64::from(feet)), celsius(degrees));
            let by_air = air(f64::from(feet), degrees);
            proof.near(by_rule.unwrap(), by_air, || format!("{feet} ft, {degrees} °C"));
        }
    }
    proof.done();
}

#[test]
fn alternators_follow_the_printed_derating_table() {
    // Operator's manuals of portable generators print these: (m, share left), (°C, share left).
    const BY_HEIGHT: &[(f64, f64)] = &[
        (1000.0, 1.0),
        (1500.0, 0.97),
        (2000.0, 0.94),
        (2500.0, 0.91),
        (3000.0, 0.88),
        (3500.0, 0.85),
        (4000.0, 0.82),
    ];
    const BY_HEAT: &[(f64, f64)] =
        &[(40.0, 1.0), (45.0, 0.97), (50.0, 0.94), (55.0, 0.91), (60.0, 0.88)];
    let mut proof = Proof::of(
        "power/alternators",
        "Power that an alternator keeps in height and heat",
        "GeneratorManuals, their derating table",
        "rows",
        Allowed::absolute(1e-9, ""),
    );
    for &(meters, expected) in BY_HEIGHT {
        let got = alternator_factor(Length::from_meters(meters), celsius(20.0)).unwrap();
        proof.near(got, expected, || format!("{meters} m"));
    }
    for &(degrees, expected) in BY_HEAT {
        let got = alternator_factor(Length::from_meters(0.0), celsius(degrees)).unwrap();
        proof.near(got, expected, || format!("{degrees} °C"));
    }
    proof.done();
}

#[test]
fn the_generator_margin_shrinks_with_height_and_heat() {
    let check = check_generator(12_000.0, 5200.0, Length::from_feet(5000.0), celsius(25.0));
    let check = check.unwrap();
    // By hand: 12 000 · 0.825 = 9900; 9900 − 5200 = 4700.
    let mut proof = Proof::of(
        "power/generator-margin",
        "What a generator has left at 5000 ft, and short of its load",
        "worked by hand",
        "numbers",
        Allowed::Each("rounding"),
    );
    proof.within(check.watts_available, 9900.0, 1e-6, || "available".to_owned());
    proof.within(check.margin_watts, 4700.0, 1e-6, || "margin".to_owned());
    proof.within(check.loaded, 5200.0 / 9900.0, 1e-12, || "loaded".to_owned());
    let overloaded = check_generator(5000.0, 5200.0, Length::from_feet(0.0), celsius(25.0));
    proof.within(overloaded.unwrap().margin_watts, -200.0, 1e-9, || "short".to_owned());
    proof.done();
    let factor = |meters: i32, degrees: i32| {
        let (elevation, ambient) =
            (Length::from_meters(f64::from(meters)), celsius(f64::from(degrees)));
        check_generator(10_000.0, 0.0, elevation, ambient).unwrap().factor
    };
    for meters in (-500..4000).step_by(100) {
        for degrees in -40..60 {
            let here = factor(meters, degrees);
            assert!(factor(meters + 100, degrees) <= here && factor(meters, degrees + 1) <= here);
            assert!(here > 0.0 && here <= 1.0);
        }
    }
}

#[test]
fn generators_outside_the_rules_give_nothing() {
    let sea = Length::from_meters(0.0);
    for (meters, degrees) in
        [(-501.0, 20.0), (4001.0, 20.0), (0.0, -40.1), (0.0, 60.1), (f64::NAN, 20.0)]
    {
        let (elevation, ambient) = (Length::from_meters(meters), celsius(degrees));
        assert_eq!(engine_factor_by_rule(elevation, ambient), None, "{meters} m {degrees} °C");
        assert_eq!(engine_factor_by_air(elevation, ambient), None, "{meters} m {degrees} °C");
        assert_eq!(alternator_factor(elevation, ambient), None, "{meters} m {degrees} °C");
        assert_eq!(check_generator(1e4, 5e3, elevation, ambient), None);
    }
    for (rated, load) in [(0.0, 1.0), (-1.0, 1.0), (1e4, -1.0), (f64::NAN, 1.0), (1e4, f64::NAN)] {
        assert_eq!(check_generator(rated, load, sea, celsius(20.0)), None, "{rated} {load}");
    }
}
