//! What leaves a wet sheet in the twelve steps of an hour, from four of its moments.
//!
//! Before the shift nobody asks how much water stands on the sheet, only what is left of it when the
//! shift begins. In an hour in which nothing has a kink the vapor that leaves runs smoothly: a cubic
//! through four moments, at the zeros of a Chebyshev polynomial, is as good as twelve balances. What
//! it may be off is taken to be no more than twice its own cubic part, and is added up as a doubt: the
//! water before the shift is worked out step by step where that doubt could decide anything.
//!
//! Three hours side by side keep the machine busy.

use fearless_simd::{Simd, f64x4, prelude::*};

use crate::physics::lanes::{OnFour, each, widest};
use crate::physics::wet_balance::WetSheets;
use crate::plan::{HOUR_STEPS, Node, STEP_S, StraightHour};

/// Hours that are worked out together.
pub(super) const HOURS: usize = 3;
/// The zeros of the Chebyshev polynomial of degree 4: `cos(π/8)` and `cos(3π/8)`.
const OUTER: f64 = 0.923_879_532_511_286_7;
const INNER: f64 = 0.382_683_432_365_089_8;
/// The middle of the steps, counted from the first, and how far the ends are from it.
const HALF: f64 = 5.5;
/// More than this a step may not be off, mm/h.
const MOST_OFF_MM_PER_H: f64 = 1e-3;
/// What the next part may come to where the cubic one happens to vanish, mm.
const REST_MM: f64 = 1e-5;
/// Between these, °C, the balance of a film has no kink; see `physics::wet_balance`.
const SMOOTH_C: [(f64, f64); 3] = [(f64::NEG_INFINITY, -2.3), (-1.7, -0.3), (0.3, f64::INFINITY)];
/// Dew point at which the emissivity of the sky has a kink, °C; see `physics::sky`.
const SKY_KINK_C: f64 = -38.0;

/// An hour's vapor by a smooth curve.
#[derive(Debug, Clone, Copy)]
pub(super) struct SmoothHour {
    /// Of each step, kg/(m² s).
    pub(super) vapor: [f64; HOUR_STEPS],
    /// How much water it may be off by, mm.
    pub(super) doubt_mm: f64,
}

/// Whether the air has no kink between two whole hours of which everything is told.
pub(super) fn is_smooth(begins: &Node, ends: &Node) -> bool {
    let same_side = |of: fn(&Node) -> f64| (of(begins) > 0.0) == (of(ends) > 0.0);
    same_side(|node| node.air_c - node.dew_point_c)
        && same_side(|node| node.dew_point_c - SKY_KINK_C)
}

/// The steps of hours that are smooth, the first at `first` seconds into each; `None` for one that is
/// not after all.
pub(super) fn smooth_hours(
    hours: [StraightHour<'_>; HOURS],
    first: i64,
) -> [Option<SmoothHour>; HOURS] {
    widest(FourMoments { hours, first }).unwrap_or([None; HOURS])
}

struct FourMoments<'a> {
    hours: [StraightHour<'a>; HOURS],
    first: i64,
}

impl OnFour for FourMoments<'_> {
    type Output = Option<[Option<SmoothHour>; HOURS]>;

    #[expect(clippy::cast_precision_loss, reason = "seconds of an hour")]
    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Self::Output {
        let at = f64x4::simd_from(simd, [-OUTER, -INNER, INNER, OUTER]);
        let seconds = (at * HALF + HALF) * STEP_S + self.first as f64;
        let [one, two, three] = &self.hours;
        let [one, two, three] =
            [one.sheets([seconds])?, two.sheets([seconds])?, three.sheets([seconds])?];
        let exchanges = WetSheets::side_by_side([one, two, three]).balanced(self.hours[0].optics());
        Some(each(
            &[0, 1, 2],
            #[inline(always)]
            |n: usize| smooth(exchanges.vapor[n].to_array(), exchanges.sheet_c[n].to_array()),
        ))
    }
}

/// The curve through four moments.
#[inline(always)]
fn smooth(vapor: [f64; 4], sheet_c: [f64; 4]) -> Option<SmoothHour> {
    let within = |(low, high): (f64, f64)| sheet_c.iter().all(|at| *at > low && *at < high);
    let [first, second, third, last] = vapor;
    let (even_outer, even_inner) = (first + last, second + third);
    let (odd_outer, odd_inner) = (last - first, third - second);
    // The parts by Chebyshev polynomials of degree 0 to 3.
    let level = 0.25 * (even_outer + even_inner);
    let straight = 0.5 * (OUTER * odd_outer + INNER * odd_inner);
    let square = 0.5 * std::f64::consts::FRAC_1_SQRT_2 * (even_outer - even_inner);
    let cubic = 0.5 * (INNER * odd_outer - OUTER * odd_inner);
    let off_mm_per_h = 3600.0 * cubic.abs();
    if !(off_mm_per_h <= MOST_OFF_MM_PER_H && SMOOTH_C.into_iter().any(within)) {
        return None;
    }
    let (m0, m1, m2, m3) = (level - square, straight - 3.0 * cubic, 2.0 * square, 4.0 * cubic);
    let mut steps = [0.0; HOUR_STEPS];
    let mut at = -1.0;
    for step in &mut steps {
        *step = m0 + at * (m1 + at * (m2 + at * m3));
        at += 1.0 / HALF;
    }
    Some(SmoothHour { vapor: steps, doubt_mm: 2.0 * off_mm_per_h + REST_MM })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::ephemeris::Ephemeris;
    use crate::physics::optics::Preset;
    use crate::physics::pressure::Height;
    use crate::physics::radiation::SunHour;
    use crate::physics::sun::Place;
    use crate::plan::{PressureAt, WholeHour};
    use crate::units::Length;
    use chrono::{DateTime, TimeDelta, Utc};

    /// Against all twelve balances, over nights and days of any weather: no step and no sum of steps
    /// further off than the curve says, and most hours so little that the doubt decides nothing.
    #[test]
    fn the_curve_is_no_further_off_than_it_says() {
        let start: DateTime<Utc> = "2015-03-01T00:00:00Z".parse().unwrap();
        let sea_level = Length::from_meters(0.0);
        let ephemeris = Ephemeris::covering(start, start + TimeDelta::days(300)).unwrap();
        let place = Place::new(41.0, 0.0, sea_level).unwrap();
        let height = Height::new(sea_level);
        let mut seed = 0.37;
        let mut dice = |least: f64, most: f64| {
            seed = (seed * 97.31 + 0.0731) % 1.0;
            least + (most - least) * seed
        };
        let (mut curves, mut close) = (0, 0);
        for number in 0..4000 {
            // Nights and late mornings.
            let hour = [0, 1, 2, 3, 9, 10][number % 6];
            let days = i64::try_from(number / 14).unwrap();
            let at = start + TimeDelta::days(days) + TimeDelta::hours(hour);
            let sun = SunHour::new(&ephemeris, &place, at).unwrap();
            let begins = Node {
                air_c: dice(-25.0, 30.0),
                dew_point_c: -40.0,
                wind_m_s: dice(0.0, 12.0),
                cloud_pct: dice(0.0, 100.0),
                hpa: dice(960.0, 1040.0),
                pressure: PressureAt::Roof,
            };
            let begins = Node { dew_point_c: begins.air_c - dice(0.1, 15.0), ..begins };
            let ends = Node {
                air_c: begins.air_c + dice(-4.0, 4.0),
                dew_point_c: begins.dew_point_c + dice(-3.0, 3.0),
                wind_m_s: (begins.wind_m_s + dice(-4.0, 4.0)).max(0.0),
                cloud_pct: (begins.cloud_pct + dice(-60.0, 60.0)).clamp(0.0, 100.0),
                ..begins
            };
            if !is_smooth(&begins, &ends) {
                continue;
            }
            let optics = Preset::White.optics(false);
            let (sun, told) = (&sun, None);
            let hour = StraightHour::of(&WholeHour { begins, ends, height, sun, told, optics });
            let [curve, ..] = smooth_hours([hour; HOURS], 150);
            let Some(curve) = curve else { continue };
            curves += 1;
            let mut off_mm: f64 = 0.0;
            for (step, exact) in curve.vapor.into_iter().zip(hour.vapor(150).unwrap()) {
                off_mm += 300.0 * (step - exact);
                assert!(off_mm.abs() <= curve.doubt_mm, "{begins:?} {ends:?} {off_mm} {curve:?}");
            }
            close += usize::from(curve.doubt_mm < 1e-4);
        }
        assert!(curves > 1500 && close > 1000, "{curves} {close}");
    }
}
