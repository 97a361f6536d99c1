//! A value on its way from one full hour to the next.

/// How one kind of value runs through one hour: straight from its start to its end.
///
/// One missing hour is bridged by its neighbors; two side by side are a gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourLine {
    /// The hour's own value; not a number where it has none.
    here: f64,
    // From the known value before to the known value after; not a number in a gap.
    before: f64,
    after: f64,
    rise: f64,
    /// Seconds from the value before to the start of the hour.
    lead_s: i64,
    /// Seconds from the value before to the value after.
    length_s: f64,
}

impl HourLine {
    /// Of the values that `value` gives by hour, the hour `hour`.
    pub(super) fn new(hour: usize, value: impl Fn(usize) -> Option<f64>) -> Self {
        const GAP: f64 = f64::NAN;
        let known = |index: Option<usize>| index.and_then(&value).unwrap_or(GAP);
        let (here, next) = (known(Some(hour)), known(Some(hour + 1)));
        let (before, after, lead_s, length_s) = if here.is_nan() {
            (known(hour.checked_sub(1)), next, 3600, 7200.0)
        } else if next.is_nan() {
            (here, known(Some(hour + 2)), 0, 7200.0)
        } else {
            return Self::between(here, next);
        };
        Self { here, before, after, rise: after - before, lead_s, length_s }
    }

    /// From a known value to the next hour's.
    pub(crate) fn between(here: f64, next: f64) -> Self {
        Self { here, before: here, after: next, rise: next - here, lead_s: 0, length_s: 3600.0 }
    }

    /// The hour's own value and the next one's, where both are known.
    pub(crate) fn straight(&self) -> Option<(f64, f64)> {
        let is_straight = self.length_s <= 3600.0 && !self.rise.is_nan();
        is_straight.then_some((self.before, self.after))
    }

    /// Whether nothing is known but perhaps the hour's own value.
    pub(crate) const fn is_gap(&self) -> bool {
        self.rise.is_nan()
    }

    /// The value `second` seconds into the hour, 0 to 3599.
    pub fn at(&self, second: i64) -> Option<f64> {
        if second == 0 && !self.here.is_nan() {
            return Some(self.here);
        }
        #[expect(clippy::cast_precision_loss, reason = "at most 7200 seconds")]
        let since_before_s = (second + self.lead_s) as f64;
        let value = self.before + self.rise * (since_before_s / self.length_s);
        (!value.is_nan()).then_some(value)
    }
}
