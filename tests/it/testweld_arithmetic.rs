//! The arithmetic of learning, against certified and printed values.

use fairseam::testweld::{Belief, student_t_95};

use crate::proof::{Allowed, Proof};

/// Deflection of a load cell in two runs at loads of 150,000 to 3,000,000.
///
/// NistStrd, dataset Pontius; public domain.
const PONTIUS: [f64; 40] = [
    0.11019, 0.21956, 0.32949, 0.43899, 0.54803, 0.65694, 0.76562, 0.87487, 0.98292, 1.09146,
    1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844,
    0.11052, 0.22018, 0.32939, 0.43886, 0.54798, 0.65739, 0.76596, 0.87474, 0.98300, 1.09150,
    1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829,
];

#[test]
fn with_a_belief_of_nothing_it_is_least_squares() {
    let data: Vec<([f64; 3], f64)> = PONTIUS
        .iter()
        .enumerate()
        .map(|(index, &deflection)| {
            let load = 0.15 * f64::from(index as u32 % 20 + 1); // in millions
            ([1.0, load, load * load], deflection)
        })
        .collect();
    let nothing = Belief::before_data([0.0; 3], [1e3; 3], 1e-3, 1e-9);
    let after = nothing.after(&data).unwrap();
    // NistStrd, Pontius, certified; the loads there are not in millions.
    let certified = [0.673_565_789_473_684e-3, 0.732_059_160_401_003, -0.316_081_871_345_029e-2];
    let mut proof = Proof::of(
        "learn/least-squares",
        "Coefficients and scatter of a regression, from a belief of nothing",
        "NistStrd, dataset Pontius, certified",
        "values",
        Allowed::Relative(1e-6),
    );
    for (got, expected) in after.coefficients().into_iter().zip(certified) {
        proof.near(got, expected, || "coefficient".to_owned());
    }
    // Certified with 37 degrees of freedom; here the sum of squares is over all 40.
    let residual = after.scatter() * (40.0_f64 / 37.0).sqrt();
    proof.near(residual, 0.205_177_424_076_185e-3, || "residual".to_owned());
    proof.done();
}

#[test]
fn one_measurement_moves_a_belief_half_way_where_both_weigh_the_same() {
    // By hand: prior 10 ± 2 with a scatter of 2, one measurement of 14. Precisions 1 and 1, so 12;
    // scatter² from 4 (weight 2) and (14-12)² + (12-10)² = 8: (2·4 + 8)/(2 + 1) = 16/3.
    let before = Belief::before_data([10.0, 0.0, 0.0], [2.0; 3], 2.0, 2.0);
    let after = before.after(&[([1.0, 0.0, 0.0], 14.0)]).unwrap();
    let mut proof = Proof::of(
        "learn/belief-and-measurement",
        "A belief after one measurement",
        "Gelman2013, worked by hand",
        "values",
        Allowed::absolute(1e-12, ""),
    );
    proof.near(after.coefficients()[0], 12.0, || "coefficient".to_owned());
    proof.near(after.scatter(), (16.0_f64 / 3.0).sqrt(), || "scatter".to_owned());
    let next = after.at([1.0, 0.0, 0.0]).unwrap();
    proof.near(next.middle, 12.0, || "middle".to_owned());
    proof.near(next.spread, (16.0_f64 / 3.0 * 1.5).sqrt(), || "spread".to_owned());
    proof.near(next.degrees_of_freedom, 3.0, || "degrees of freedom".to_owned());
    proof.done();
    assert_eq!(before.after(&[([1.0, 0.0, 0.0], f64::NAN)]), None);
}

#[test]
fn student_t_as_printed() {
    // Abramowitz1964, table 26.10, one-sided 95 %; from memory.
    let mut proof = Proof::of(
        "learn/student-t",
        "Student's t, one-sided 95 %",
        "Abramowitz1964, table 26.10; from memory",
        "values",
        Allowed::absolute(0.001, ""),
    );
    for (degrees, printed) in
        [(4.0, 2.132), (5.0, 2.015), (10.0, 1.812), (20.0, 1.725), (30.0, 1.697), (120.0, 1.658)]
    {
        proof.near(student_t_95(degrees), printed, || format!("{degrees} degrees"));
    }
    proof.done();
}
