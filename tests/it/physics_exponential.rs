//! The exponential in which the balances of the sheet are worked out.

use fairseam::physics::exponential::exp;

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
        proof.near(exp(x), libm::exp(x), || x.to_string());
        x += 0.000_731;
    }
    for x in [-690.0, 690.0] {
        proof.near(exp(x), libm::exp(x), || x.to_string());
    }
    assert_eq!(exp(0.0), 1.0);
    assert!(exp(f64::NAN).is_nan());
    proof.done();
}
