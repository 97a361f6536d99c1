//! The widest vector instructions that the machine at hand has, for loops over columns.

use fearless_simd::{Level, Simd};

/// Does `work` in a form built for the vector instructions of this machine, where it has more than
/// every machine of its kind.
///
/// The digits are the same in either form: both are built from the same operations, each rounded by
/// itself (a multiplication and an addition are never fused unless the source says so), and only
/// how many are done at once differs. What `work` calls must be `#[inline(always)]`, and so must
/// the closure itself: what is called stays in the plain form.
#[inline(always)]
pub(crate) fn widest<R>(work: impl FnOnce() -> R) -> R {
    #[cfg(target_arch = "x86_64")]
    if let Some(four_at_once) = Level::new().as_avx2() {
        return four_at_once.vectorize(work);
    }
    work()
}
