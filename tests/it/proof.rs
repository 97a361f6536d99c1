//! Outside checks that write themselves down: every one holds its row of `docs/verification.md`.
//!
//! A [`Proof`] stands beside the numbers of a test. It asserts each comparison, counts it, keeps the
//! worst difference, and at the end asserts that the page holds exactly the row which that makes;
//! `FAIRSEAM_BLESS=1` writes the row instead. Whatever order tests run in, the page cannot be stale.

mod page;

use std::fmt::Debug;
use std::ops::RangeBounds;

/// How far a comparison may be off, in the words of the page.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Allowed {
    /// So much, in a unit.
    Absolute(f64, &'static str),
    /// So much of the expected number.
    Relative(f64),
    /// From the first below to the second above, for a known difference to one side.
    Between(f64, f64, &'static str),
    /// Given with each comparison, by [`Proof::within`]; the words say how.
    Each(&'static str),
    /// Nothing: equal is equal.
    Nothing,
    /// Anywhere inside the range that is given with each comparison, by [`Proof::inside`].
    Range(&'static str),
}

impl Allowed {
    pub(crate) fn absolute(by: f64, unit: &'static str) -> Self {
        Self::Absolute(by, unit)
    }

    fn told(self) -> String {
        match self {
            Self::Absolute(by, unit) => with_unit(&short(by), unit),
            Self::Relative(by) if by < 1e-5 => format!("{by:e}, relative"),
            // Rounded, for 0.008 is 0.8000000000000002 % to a machine.
            Self::Relative(by) => format!("{} %", (by * 1e8).round() / 1e6),
            Self::Between(low, high, unit) => {
                with_unit(&format!("−{} to +{}", short(-low), short(high)), unit)
            }
            Self::Each(how) | Self::Range(how) => how.to_owned(),
            Self::Nothing => "nothing".to_owned(),
        }
    }
}

/// An outside check while it runs; [`Proof::done`] ends it.
#[derive(Debug)]
pub(crate) struct Proof {
    key: &'static str,
    what: &'static str,
    against: &'static str,
    of: &'static str,
    allowed: Allowed,
    count: usize,
    /// The least and the greatest difference; of [`Allowed::Each`] as a share of what was allowed.
    off: (f64, f64),
    expected_count: Option<usize>,
    ended: bool,
}

impl Proof {
    /// A check under a `key` of its own, `section/name`: `what` is held `against` a source, counted
    /// in `of`, such as "cells".
    pub(crate) fn of(
        key: &'static str,
        what: &'static str,
        against: &'static str,
        of: &'static str,
        allowed: Allowed,
    ) -> Self {
        let off = (0.0, 0.0);
        Self { key, what, against, of, allowed, count: 0, off, expected_count: None, ended: false }
    }

    /// A check that needs a program which may not be installed: `count` comparisons where it is. Its
    /// row is the same without it.
    pub(crate) fn when_installed(mut self, count: usize) -> Self {
        self.expected_count = Some(count);
        self
    }

    /// Two numbers, as near as the check allows.
    pub(crate) fn near(&mut self, got: f64, expected: f64, label: impl FnOnce() -> String) {
        let (off, low, high) = match self.allowed {
            Allowed::Absolute(by, _) => (got - expected, -by, by),
            Allowed::Relative(by) => (got / expected - 1.0, -by, by),
            Allowed::Between(low, high, _) => (got - expected, low, high),
            other => panic!("{}: near needs one tolerance, not {other:?}", self.key),
        };
        let allowed = self.allowed.told();
        assert!(
            (low..=high).contains(&off),
            "{}: {}: {got}, not {expected}; allowed: {allowed}",
            self.key,
            label(),
        );
        self.keep(off);
    }

    /// Two numbers, as near as this comparison allows.
    pub(crate) fn within(
        &mut self,
        got: f64,
        expected: f64,
        allowed: f64,
        label: impl FnOnce() -> String,
    ) {
        assert!(matches!(self.allowed, Allowed::Each(_)), "{}: within needs Each", self.key);
        let off = (got - expected).abs();
        assert!(
            off <= allowed,
            "{}: {}: {got}, not {expected}; allowed: {allowed}",
            self.key,
            label()
        );
        // What is nothing but rounding would be another share on another machine.
        self.keep(if off < 1e-9 { 0.0 } else { off / allowed });
    }

    /// A number inside a published range.
    pub(crate) fn inside(
        &mut self,
        got: f64,
        range: impl RangeBounds<f64> + Debug,
        label: impl FnOnce() -> String,
    ) {
        assert!(matches!(self.allowed, Allowed::Range(_)), "{}: inside needs Range", self.key);
        assert!(range.contains(&got), "{}: {}: {got} is not in {range:?}", self.key, label());
        self.keep(0.0);
    }

    /// Two things that are equal.
    pub(crate) fn same<T: PartialEq<U> + Debug + ?Sized, U: Debug + ?Sized>(
        &mut self,
        got: &T,
        expected: &U,
        label: impl FnOnce() -> String,
    ) {
        assert!(matches!(self.allowed, Allowed::Nothing), "{}: same needs Nothing", self.key);
        if got != expected {
            panic!("{}: {}: {got:#?}, not {expected:#?}", self.key, label());
        }
        self.keep(0.0);
    }

    fn keep(&mut self, off: f64) {
        self.count += 1;
        self.off = (self.off.0.min(off), self.off.1.max(off));
    }

    /// Ends the check: its row must stand in `docs/verification.md`.
    pub(crate) fn done(mut self) {
        self.ended = true;
        let count = self.expected_count.unwrap_or(self.count);
        let left_out = self.expected_count.is_some() && self.count == 0;
        assert!(left_out || count == self.count, "{}: {} compared", self.key, self.count);
        assert!(count > 0, "{}: nothing was compared", self.key);
        let test = std::thread::current().name().unwrap_or_default().to_owned();
        assert!(
            test.contains("::"),
            "{}: a test runs in a thread of its name, not {test}",
            self.key
        );
        page::hold(self.key, &self.row(count, &test));
    }

    fn row(&self, count: usize, test: &str) -> String {
        let installed = if self.expected_count.is_some() { ", where installed" } else { "" };
        let cells = [
            format!("`{}`", self.key),
            self.what.to_owned(),
            self.against.to_owned(),
            format!("{count} {}{installed}", self.of),
            self.allowed.told(),
            self.worst(),
            format!("`{test}`"),
        ];
        assert!(cells.iter().all(|cell| !cell.contains(['|', '\n'])), "{cells:?}");
        format!("| {} |", cells.join(" | "))
    }

    fn worst(&self) -> String {
        let (low, high) = self.off;
        let most = high.max(-low);
        match self.allowed {
            Allowed::Absolute(_, unit) => with_unit(&two_digits(most), unit),
            Allowed::Relative(by) if by < 1e-5 => two_digits(most),
            Allowed::Relative(_) if most < 1e-9 => two_digits(most),
            Allowed::Relative(_) => format!("{} %", two_digits(100.0 * most)),
            Allowed::Between(_, _, unit) => {
                with_unit(&format!("−{} to +{}", two_digits(-low), two_digits(high)), unit)
            }
            Allowed::Each(_) if most < 1e-9 => "none".to_owned(),
            Allowed::Each(_) => format!("{} % of it", two_digits(100.0 * most)),
            Allowed::Nothing => "all equal".to_owned(),
            Allowed::Range(_) => "all inside".to_owned(),
        }
    }
}

/// A check that is begun and never done would leave its row to go stale.
impl Drop for Proof {
    fn drop(&mut self) {
        assert!(self.ended || std::thread::panicking(), "{}: the check is not done", self.key);
    }
}

fn short(number: f64) -> String {
    if number < 1e-4 { format!("{number:e}") } else { number.to_string() }
}

fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() { number.to_owned() } else { format!("{number} {unit}") }
}

/// Two significant digits, alike on every machine: what rounding in the last bits may move is left
/// out, and so are differences that are nothing but such rounding.
fn two_digits(number: f64) -> String {
    if number < 1e-9 {
        return "< 1e-9".to_owned();
    }
    // A tie in decimals comes out a hair to either side of it, so it is moved off.
    let number = number * (1.0 + 1e-9);
    if number < 1e-4 {
        return format!("{number:.1e}");
    }
    let digits_before = number.log10().floor();
    let unit = 10_f64.powf(digits_before - 1.0);
    let decimals = if digits_before < 1.0 { (1.0 - digits_before) as usize } else { 0 };
    format!("{:.decimals$}", (number / unit).round() * unit)
}

#[test]
fn two_digits_are_two_digits() {
    for (number, expected) in [
        (0.0, "< 1e-9"),
        (9.9e-10, "< 1e-9"),
        (1.24e-9, "1.2e-9"),
        (0.000_456, "0.00046"),
        (0.5, "0.50"),
        (0.285 - 1e-17, "0.29"),
        (1.0, "1.0"),
        (11.6, "12"),
        (126.0, "130"),
    ] {
        assert_eq!(two_digits(number), expected, "{number}");
    }
}

#[test]
fn a_row_says_what_was_found() {
    let mut proof =
        Proof::of("any/key", "Felt heat", "a chart", "cells", Allowed::absolute(0.5, "°F"));
    proof.near(10.25, 10.0, String::new);
    proof.near(9.6, 10.0, String::new);
    assert_eq!(
        proof.row(2, "a::test"),
        "| `any/key` | Felt heat | a chart | 2 cells | 0.5 °F | 0.40 °F | `a::test` |"
    );
    proof.ended = true;
    let mut proof = Proof::of("any/key", "x", "y", "cells", Allowed::Between(-0.5, 2.6, "°F"));
    proof.near(9.75, 10.0, String::new);
    proof.near(12.5, 10.0, String::new);
    assert_eq!(proof.worst(), "−0.25 to +2.5 °F");
    proof.ended = true;
    let mut proof = Proof::of("any/key", "x", "y", "rows", Allowed::Each("as printed"));
    proof.within(1.0, 1.5, 2.0, String::new);
    assert_eq!((proof.worst(), proof.count), ("25 % of it".to_owned(), 1));
    proof.ended = true;
}

#[test]
fn what_is_off_or_no_number_fails() {
    for (got, expected) in [(10.6, 10.0), (f64::NAN, 10.0), (10.0, f64::NAN)] {
        let failed = std::panic::catch_unwind(|| {
            let allowed = Allowed::absolute(0.5, "°F");
            Proof::of("any/key", "x", "y", "cells", allowed).near(got, expected, String::new);
        });
        assert!(failed.is_err(), "{got} {expected}");
    }
}
