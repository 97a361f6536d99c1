//! The exponential and the logarithm in which the balances of the sheet are worked out.

use fairseam::physics::exponential::{exp_of, ln_of};

use crate::proof::{Allowed, Proof};

#[test]
fn it_is_the_exponential_to_the_last_digits() {
    let mut proof = Proof::of(
        "sheet/exponential",
        "The exponential of −60 to 60, and of ±690",
        "the musl project's, in the crate libm, exact to less than a digit",
        "numbers",
        Allowed::Relative(9e-16),
    );
    let mut x = -60.0;
    while x < 60.0 {
        proof.near(exp_of(x), libm::exp(x), || x.to_string());
        x += 0.000_731;
    }
    for x in [-690.0, 690.0] {
        proof.near(exp_of(x), libm::exp(x), || x.to_string());
    }
    assert_eq!(exp_of(0.0), 1.0);
    assert!(exp_of(f64::NAN).is_nan());
    proof.done();
}

#[test]
fn it_is_the_logarithm_to_the_last_digits() {
    let mut proof = Proof::of(
        "sheet/logarithm",
        "The natural logarithm from 2⁻⁶⁰ to 2⁶⁰",
        "the musl project's, in the crate libm, exact to less than a digit",
        "numbers",
        Allowed::Each("four in the last place, where it is small of 0.1"),
    );
    for power in -60..60 {
        for step in 0..400 {
            let x = (1.0 + f64::from(step) * 0.002_51) * f64::from(power).exp2();
            let expected = libm::log(x);
            let allowed = 4.0 * f64::EPSILON * expected.abs().max(0.1);
            proof.within(ln_of(x), expected, allowed, || x.to_string());
        }
    }
    assert_eq!(ln_of(1.0), 0.0);
    proof.done();
}
