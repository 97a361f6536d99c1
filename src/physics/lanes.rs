//! Formulas for one number or for several side by side: written once, over [`Lanes`].
//!
//! One number is worked out by the very steps of many, so that a plan and years of plans give the
//! same digits: each operation is rounded by itself, and none is fused with another.

use std::ops::{Add, BitAnd, BitOr, Div, Mul, Neg, Sub};

use fearless_simd::prelude::*;
use fearless_simd::{Level, dispatch, f64x4, mask64x4, u64x4};

/// Numbers that are worked out side by side; a single one is a lane of its own.
pub trait Lanes:
    Copy
    + Add<Output = Self>
    + Add<f64, Output = Self>
    + Sub<Output = Self>
    + Sub<f64, Output = Self>
    + Mul<Output = Self>
    + Mul<f64, Output = Self>
    + Div<Output = Self>
    + Div<f64, Output = Self>
    + Neg<Output = Self>
{
    /// Which lanes.
    type Mask: Copy + BitAnd<Output = Self::Mask> + BitOr<Output = Self::Mask>;

    /// The same number in as many lanes as these.
    fn all(self, value: f64) -> Self;

    /// Where these are less than those.
    fn below(self, those: Self) -> Self::Mask;

    /// Where these are no more than those.
    fn up_to(self, those: Self) -> Self::Mask;

    /// These where the mask says so, elsewhere those.
    fn pick(mask: Self::Mask, these: Self, those: Self) -> Self;

    /// Whether the mask names any lane.
    fn any(mask: Self::Mask) -> bool;

    /// The square root.
    fn root(self) -> Self;

    /// Without the sign.
    fn magnitude(self) -> Self;

    /// Two to the power of the whole number that stands in the last bits.
    fn power_of_last_bits(self) -> Self;

    /// A number above 0 as a share from 1 up to 2 of a power of two, and the exponent of that power.
    fn share_and_exponent(self) -> (Self, Self);

    /// One over each.
    #[inline(always)]
    fn inverse(self) -> Self {
        self.all(1.0) / self
    }

    /// `value` less each.
    #[inline(always)]
    fn taken_from(self, value: f64) -> Self {
        self.all(value) - self
    }

    /// The lesser of each pair.
    #[inline(always)]
    fn lesser(self, other: Self) -> Self {
        Self::pick(self.below(other), self, other)
    }

    /// The greater of each pair.
    #[inline(always)]
    fn greater(self, other: Self) -> Self {
        Self::pick(other.below(self), self, other)
    }
}

/// Bits of a share, and the exponent of a number from 1 up to 2.
const SHARE_BITS: u64 = (1 << 52) - 1;
const EXPONENT_OF_1: u64 = 1023 << 52;
/// 2^52 and 2^52 + 1023: whole numbers by their last bits.
const WHOLE_BITS: u64 = (1023 + 52) << 52;
const WHOLE_AND_1023: f64 = 4_503_599_627_371_519.0;

impl Lanes for f64 {
    type Mask = bool;

    #[inline(always)]
    fn all(self, value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn below(self, those: Self) -> bool {
        self < those
    }

    #[inline(always)]
    fn up_to(self, those: Self) -> bool {
        self <= those
    }

    #[inline(always)]
    fn pick(mask: bool, these: Self, those: Self) -> Self {
        if mask { these } else { those }
    }

    #[inline(always)]
    fn any(mask: bool) -> bool {
        mask
    }

    #[inline(always)]
    fn root(self) -> Self {
        self.sqrt()
    }

    #[inline(always)]
    fn magnitude(self) -> Self {
        self.abs()
    }

    #[inline(always)]
    fn power_of_last_bits(self) -> Self {
        Self::from_bits((self.to_bits() << 52).wrapping_add(EXPONENT_OF_1))
    }

    #[inline(always)]
    fn share_and_exponent(self) -> (Self, Self) {
        let bits = self.to_bits();
        let share = Self::from_bits((bits & SHARE_BITS) | EXPONENT_OF_1);
        (share, Self::from_bits((bits >> 52) | WHOLE_BITS) - WHOLE_AND_1023)
    }
}

impl<S: Simd> Lanes for f64x4<S> {
    type Mask = mask64x4<S>;

    #[inline(always)]
    fn all(self, value: f64) -> Self {
        Self::splat(self.simd, value)
    }

    #[inline(always)]
    fn below(self, those: Self) -> Self::Mask {
        self.simd_lt(those)
    }

    #[inline(always)]
    fn up_to(self, those: Self) -> Self::Mask {
        self.simd_le(those)
    }

    #[inline(always)]
    fn pick(mask: Self::Mask, these: Self, those: Self) -> Self {
        mask.select(these, those)
    }

    #[inline(always)]
    fn any(mask: Self::Mask) -> bool {
        mask.any_true()
    }

    #[inline(always)]
    fn root(self) -> Self {
        self.sqrt()
    }

    #[inline(always)]
    fn magnitude(self) -> Self {
        self.abs()
    }

    #[inline(always)]
    fn power_of_last_bits(self) -> Self {
        Self::from_bits((self.to_bits() << 52) + EXPONENT_OF_1)
    }

    #[inline(always)]
    fn share_and_exponent(self) -> (Self, Self) {
        let bits = self.to_bits();
        let all = |bits: u64| u64x4::splat(self.simd, bits);
        let share = Self::from_bits((bits & all(SHARE_BITS)) | all(EXPONENT_OF_1));
        (share, Self::from_bits((bits >> 52) | all(WHOLE_BITS)) - WHOLE_AND_1023)
    }
}

/// Work that is done on four lanes at once, by whatever instructions there are for it. What it calls
/// must be `#[inline(always)]`, and so must [`OnFour::on`]: what is called stays in the plain form.
pub(crate) trait OnFour {
    /// What comes of it.
    type Output;

    /// Does it.
    fn on<S: Simd>(self, simd: S) -> Self::Output;
}

/// Does `work` with the widest vector instructions of the machine at hand that pay: AVX2 where an
/// x86-64 has it, else what every machine of its kind has. The digits are the same.
#[inline(always)]
pub(crate) fn widest<W: OnFour>(work: W) -> W::Output {
    #[cfg(target_arch = "x86_64")]
    if let Some(avx2) = Level::new().as_avx2() {
        return avx2.vectorize(
            #[inline(always)]
            || work.on(avx2),
        );
    }
    on_every_machine(work)
}

/// Does `work` with what every machine of this kind has.
#[inline(always)]
pub(crate) fn on_every_machine<W: OnFour>(work: W) -> W::Output {
    dispatch!(Level::baseline(), simd => work.on(simd))
}

/// Holds a closure that is to be inlined wherever it is called: only an argument can be marked so.
#[inline(always)]
pub(crate) const fn inlined<F>(closure: F) -> F {
    closure
}

/// `work` of each, in order. Unlike the array's own it surely stays where it is called.
#[inline(always)]
pub(crate) fn each<A: Copy, B: Copy, const N: usize>(of: &[A; N], work: impl Fn(A) -> B) -> [B; N] {
    let mut done = [work(of[0]); N];
    for n in 1..N {
        done[n] = work(of[n]);
    }
    done
}

/// Columns of twelve as three vectors of four.
#[inline(always)]
pub(crate) fn by_fours<S: Simd>(simd: S, column: &[f64; 12]) -> [f64x4<S>; 3] {
    each(
        &[0, 4, 8],
        #[inline(always)]
        |at| f64x4::simd_from(simd, [column[at], column[at + 1], column[at + 2], column[at + 3]]),
    )
}

/// Vectors of four as one column, `N` four times as many.
#[inline(always)]
pub(crate) fn in_a_row<S: Simd, const FOURS: usize, const N: usize>(
    fours: [f64x4<S>; FOURS],
) -> [f64; N] {
    const { assert!(N == 4 * FOURS) };
    let mut column = [0.0; N];
    for (part, four) in column.chunks_exact_mut(4).zip(fours) {
        part.copy_from_slice(four.as_slice());
    }
    column
}
