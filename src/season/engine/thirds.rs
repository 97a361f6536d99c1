//! What is sure of a dry sheet over each third of an hour, the three side by side.
//!
//! The same bounds as in `bounds`, for an hour of which everything is told. They are worked out once
//! an hour; what a test's limits come to against them costs next to nothing.

use fearless_simd::{Simd, f64x4, prelude::*};

use super::bounds::{DECLINATION_DRIFT, SURE_W_M2};
use super::nearness::Nearness;
use crate::physics::lanes::{Lanes, OnFour, inlined, widest};
use crate::physics::sky;
use crate::physics::surface::{DryBalance, MOST_SHORTWAVE_W_M2, nominal_convection_w_m2_k};
use crate::plan::WholeHour;

const THIRD_S: f64 = 1200.0;
/// `1 - cos 2.5°`: in a third of an hour the sun turns no further from the nearer end to noon or
/// midnight.
const BEYOND_THE_ENDS: f64 = 9.6e-4;

/// The coldest and the warmest that each third may bring.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thirds {
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

impl Thirds {
    pub(super) fn of(hour: WholeHour<'_>) -> Self {
        widest(OfThirds { hour })
    }

    /// Whether air and sheet surely stay within these limits all through a third.
    pub(super) fn stay(&self, third: usize, near: &Nearness) -> bool {
        let [least, most] = [0, 1].map(|end: usize| self.convection[end][third]);
        let of = |extremes: &Extremes| (extremes.air_c[third], extremes.gained_w_m2[third]);
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

/// The thirds of one hour.
struct OfThirds<'a> {
    hour: WholeHour<'a>,
}

impl OnFour for OfThirds<'_> {
    type Output = Thirds;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Thirds {
        let WholeHour { begins, ends, height, sun, told, optics } = self.hour;
        // Beginning, thirds and end of the hour.
        let at = f64x4::simd_from(simd, [0.0, THIRD_S, 2.0 * THIRD_S, 3.0 * THIRD_S]);
        let straight = inlined(
            #[inline(always)]
            |begins: f64, ends: f64| at / 3600.0 * (ends - begins) + begins,
        );
        // Least and most of the ends of each third; of the last lane there is no use.
        let between = inlined(
            #[inline(always)]
            |at: f64x4<S>| {
                let later = at.slide::<1>(at);
                (at.lesser(later), at.greater(later))
            },
        );
        let air = between(straight(begins.air_c, ends.air_c));
        let dew_point = between(straight(begins.dew_point_c, ends.dew_point_c));
        let wind = between(straight(begins.wind_m_s, ends.wind_m_s));
        let cloud_pct = straight(begins.cloud_pct, ends.cloud_pct);
        let cloud = between(cloud_pct);
        let [begins_hpa, ends_hpa] = [begins, ends].map(|node| node.roof_hpa(&height));
        let hpa = between(straight(begins_hpa, ends_hpa));
        let angle = sun.sun_after_ms(at * 1000.0);
        let beyond = at.all(if sun.passes_noon_or_midnight() { BEYOND_THE_ENDS } else { 0.0 });
        let hour = between(angle.cos_of_hour());
        let sun = sun.radiation_between(
            angle.sin_elevation,
            cloud_pct,
            told,
            beyond + DECLINATION_DRIFT,
            between,
        );
        // More sun than is believed is as good as unknown.
        let believed = sun.1.up_to(at.all(MOST_SHORTWAVE_W_M2));
        let most_sun = f64x4::pick(believed, sun.1, at.all(f64::NAN));
        let extremes = inlined(
            #[inline(always)]
            |air_c: f64x4<S>, dew_point_c, cos_of_hour, hpa, cloud_pct, sun_w_m2| {
                let sky_c = sky::seen_c(air_c, dew_point_c, cos_of_hour, hpa, cloud_pct);
                let balance = DryBalance::of(optics, air_c, sky_c, sun_w_m2, air_c);
                Extremes { air_c: air_c.to_array(), gained_w_m2: balance.gained_w_m2().to_array() }
            },
        );
        Thirds {
            cold: extremes(air.0, dew_point.0, hour.0 - beyond, hpa.0, cloud.0, sun.0),
            warm: extremes(air.1, dew_point.1, hour.1 + beyond, hpa.1, cloud.1, most_sun),
            convection: [
                nominal_convection_w_m2_k(wind.0).to_array(),
                nominal_convection_w_m2_k(wind.1).to_array(),
            ],
        }
    }
}
