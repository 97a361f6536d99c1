//! What is sure of a dry sheet over each quarter of an hour, the four side by side.
//!
//! The same bounds as in `bounds`, for an hour of which everything is told. They are worked out once
//! an hour; what a test's limits come to against them costs next to nothing.

use fearless_simd::{Simd, f64x4, prelude::*};

use super::bounds::{DECLINATION_DRIFT, SURE_W_M2};
use super::nearness::Nearness;
use crate::physics::ephemeris::turns_past_noon_or_midnight;
use crate::physics::lanes::{Lanes, OnFour, inlined, widest};
use crate::physics::optics::Optics;
use crate::physics::pressure::Height;
use crate::physics::radiation::SunHour;
use crate::physics::sky;
use crate::physics::surface::{DryBalance, MOST_SHORTWAVE_W_M2, nominal_convection_w_m2_k};
use crate::plan::Node;

const QUARTER_S: f64 = 900.0;
/// `1 - cos 1.875°`: in a quarter of an hour the sun turns no further from the nearer end to noon or
/// midnight.
const BEYOND_THE_ENDS: f64 = 5.4e-4;

/// The coldest and the warmest that each quarter may bring.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quarters {
    cold: Extremes,
    warm: Extremes,
    /// Least and most convection, W/(m² K).
    convection: [[f64; 4]; 2],
}

/// Not a number is no bound.
#[derive(Debug, Clone, Copy)]
struct Extremes {
    air_c: [f64; 4],
    /// From sun and sky, W/m².
    gained_w_m2: [f64; 4],
}

/// An hour of which everything is told.
pub(super) struct WholeHour<'a> {
    pub(super) begins: Node,
    pub(super) ends: Node,
    pub(super) height: Height,
    pub(super) sun: &'a SunHour,
    pub(super) told: Option<f64>,
    pub(super) optics: Optics,
}

impl Quarters {
    pub(super) fn of(hour: WholeHour<'_>) -> Self {
        widest(hour)
    }

    /// Whether air and sheet surely stay within these limits all through a quarter.
    pub(super) fn stay(&self, quarter: usize, near: &Nearness) -> bool {
        let [least, most] = [0, 1].map(|end: usize| self.convection[end][quarter]);
        let of = |extremes: &Extremes| (extremes.air_c[quarter], extremes.gained_w_m2[quarter]);
        let ((cold_c, cold_w_m2), (warm_c, warm_w_m2)) = (of(&self.cold), of(&self.warm));
        near.is_air(cold_c)
            && near.is_air(warm_c)
            && near.sheet.is_none_or(|sheet| {
                // Of the ends of the convection that one is taken which speaks against it.
                let [low, high] = sheet.celsius;
                let below = if low > cold_c { most } else { least };
                let above = if high > warm_c { least } else { most };
                sheet.radiated_w_m2[0] + below * (low - cold_c) - cold_w_m2 < -SURE_W_M2
                    && sheet.radiated_w_m2[1] + above * (high - warm_c) - warm_w_m2 > SURE_W_M2
            })
    }
}

impl OnFour for WholeHour<'_> {
    type Output = Quarters;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Quarters {
        let from = f64x4::simd_from(simd, [0.0, QUARTER_S, 2.0 * QUARTER_S, 3.0 * QUARTER_S]);
        let to = from + QUARTER_S;
        // Least and most over each quarter of what runs straight.
        let over = inlined(
            #[inline(always)]
            |begins: f64, ends: f64| {
                let (at_from, at_to) = (
                    from / 3600.0 * (ends - begins) + begins,
                    to / 3600.0 * (ends - begins) + begins,
                );
                (at_from.lesser(at_to), at_from.greater(at_to))
            },
        );
        let air = over(self.begins.air_c, self.ends.air_c);
        let dew_point = over(self.begins.dew_point_c, self.ends.dew_point_c);
        let wind = over(self.begins.wind_m_s, self.ends.wind_m_s);
        let cloud = over(self.begins.cloud_pct, self.ends.cloud_pct);
        let [begins_hpa, ends_hpa] =
            [&self.begins, &self.ends].map(|node| node.roof_hpa(&self.height));
        let hpa = over(begins_hpa, ends_hpa);
        let (first, last) =
            (self.sun.sun_after_ms(from * 1000.0), self.sun.sun_after_ms(to * 1000.0));
        let zero = f64x4::splat(simd, 0.0);
        let passes = turns_past_noon_or_midnight(&first, &last);
        let beyond = f64x4::pick(passes, zero.all(BEYOND_THE_ENDS), zero);
        let drift = beyond + DECLINATION_DRIFT;
        let low = first.sin_elevation.lesser(last.sin_elevation) - drift;
        let high = first.sin_elevation.greater(last.sin_elevation) + drift;
        let hour_low = first.cos_of_hour().lesser(last.cos_of_hour()) - beyond;
        let hour_high = first.cos_of_hour().greater(last.cos_of_hour()) + beyond;
        let one = zero.all(1.0);
        let [least_sun, most_sun] = self.sun.radiations(
            &[low.greater(-one), high.lesser(one)],
            self.told,
            &[cloud.1, cloud.0],
        );
        // More sun than is believed is as good as unknown.
        let believed = most_sun.up_to(zero.all(MOST_SHORTWAVE_W_M2));
        let most_sun = f64x4::pick(believed, most_sun, zero.all(f64::NAN));
        let extremes = inlined(
            #[inline(always)]
            |air_c: f64x4<S>, dew_point_c, cos_of_hour, hpa, cloud_pct, sun_w_m2| {
                let clear = sky::clear(dew_point_c, cos_of_hour, hpa);
                let sky_c = sky::radiating_c(air_c, sky::clouded(clear, cloud_pct));
                let balance = DryBalance::of(self.optics, air_c, sky_c, sun_w_m2, zero);
                Extremes { air_c: air_c.to_array(), gained_w_m2: balance.gained_w_m2().to_array() }
            },
        );
        Quarters {
            cold: extremes(air.0, dew_point.0, hour_low, hpa.0, cloud.0, least_sun),
            warm: extremes(air.1, dew_point.1, hour_high, hpa.1, cloud.1, most_sun),
            convection: [
                nominal_convection_w_m2_k(wind.0).to_array(),
                nominal_convection_w_m2_k(wind.1).to_array(),
            ],
        }
    }
}
