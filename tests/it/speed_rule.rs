//! The speed rule for every whole degree from 0 to 110 °F, before a welder's range limits it.
//!
//! *Common practice*: ambient to the nearest ten, over ten, plus two, in ft/min; a tie goes to the
//! slower.

use fairseam::plan::start_speed;
use fairseam::units::Temperature;

use crate::proof::{Allowed, Proof};

/// The speed at the decade and at each of the nine degrees above it. The sixth column is the tie.
const BY_DECADE: &[(u32, &[u32])] = &[
    //     0   1   2   3   4   5   6   7   8   9
    (0, &[2, 2, 2, 2, 2, 2, 3, 3, 3, 3]),
    (10, &[3, 3, 3, 3, 3, 3, 4, 4, 4, 4]),
    (20, &[4, 4, 4, 4, 4, 4, 5, 5, 5, 5]),
    (30, &[5, 5, 5, 5, 5, 5, 6, 6, 6, 6]),
    (40, &[6, 6, 6, 6, 6, 6, 7, 7, 7, 7]),
    (50, &[7, 7, 7, 7, 7, 7, 8, 8, 8, 8]),
    (60, &[8, 8, 8, 8, 8, 8, 9, 9, 9, 9]),
    (70, &[9, 9, 9, 9, 9, 9, 10, 10, 10, 10]),
    (80, &[10, 10, 10, 10, 10, 10, 11, 11, 11, 11]),
    (90, &[11, 11, 11, 11, 11, 11, 12, 12, 12, 12]),
    (100, &[12, 12, 12, 12, 12, 12, 13, 13, 13, 13]),
    (110, &[13]),
];

/// (°F, ft/min): every tie once more by itself, so that none hides in a row.
const TIES: &[(f64, f64)] = &[
    (5.0, 2.0),    // 0, not 10
    (15.0, 3.0),   // 10, not 20
    (25.0, 4.0),   // 20, not 30
    (35.0, 5.0),   // 30, not 40
    (45.0, 6.0),   // 40, not 50
    (55.0, 7.0),   // 50, not 60
    (65.0, 8.0),   // 60, not 70
    (75.0, 9.0),   // 70, not 80
    (85.0, 10.0),  // 80, not 90
    (95.0, 11.0),  // 90, not 100
    (105.0, 12.0), // 100, not 110
];

/// (°F, ft/min, why).
const SINGLE_VALUES: &[(f64, f64, &str)] = &[
    (80.0, 10.0, "common practice: 80 °F is 10 ft/min"),
    (39.92, 6.0, "40 °F as a station reports it: 4.4 °C"),
    (84.9, 10.0, "just under a tie"),
    (85.1, 11.0, "just over a tie"),
    (44.96, 6.0, "45 °F as a station reports it: 7.2 °C"),
    (55.04, 8.0, "55 °F as a station reports it: 12.8 °C"),
    (-4.0, 2.0, "below zero: nearest ten is 0"),
    (-5.0, 1.0, "a tie below zero: -10 is the slower"),
];

fn speed_at(fahrenheit: f64) -> f64 {
    start_speed(Temperature::from_fahrenheit(fahrenheit)).feet_per_minute()
}

#[test]
fn every_whole_degree_has_its_speed() {
    let mut degrees = 0;
    let mut proof = Proof::of(
        "plan/start-speed",
        "Start speed of every whole degree from 0 to 110 °F",
        "*common practice*: the nearest ten over ten, plus two; worked by hand",
        "degrees",
        Allowed::Nothing,
    );
    for &(decade, speeds) in BY_DECADE {
        for (expected, ones) in speeds.iter().zip(0..) {
            let got = speed_at(f64::from(decade + ones));
            proof.same(&got, &f64::from(*expected), || format!("{} °F", decade + ones));
            degrees += 1;
        }
    }
    assert_eq!(degrees, 111);
    proof.done();
}

#[test]
fn a_tie_goes_to_the_slower() {
    let mut proof = Proof::of(
        "plan/start-speed-ties",
        "Start speed half way between two tens",
        "*common practice*: a tie goes to the slower",
        "ties",
        Allowed::Nothing,
    );
    for &(air, expected) in TIES {
        proof.same(&speed_at(air), &expected, || format!("{air} °F"));
    }
    proof.done();
}

#[test]
fn the_number_is_taken_as_given() {
    let mut proof = Proof::of(
        "plan/start-speed-fractions",
        "Start speed of air between whole degrees and below zero",
        "*common practice*, worked by hand",
        "values",
        Allowed::Nothing,
    );
    for &(air, expected, why) in SINGLE_VALUES {
        proof.same(&speed_at(air), &expected, || format!("{why}: {air} °F"));
    }
    proof.done();
}

#[test]
fn a_tie_that_comes_from_celsius_is_a_tie() {
    // 85 °F is 29.444… °C, 75 °F is 23.888… °C: neither is a whole binary fraction.
    for (ninths, expected) in [(265.0, 10.0), (215.0, 9.0)] {
        let got = start_speed(Temperature::from_celsius(ninths / 9.0)).feet_per_minute();
        assert!(got == expected, "{ninths}/9 °C gave {got} ft/min");
    }
}
