//! Hours in which a dry sheet surely stays dry, and the sun over them: four hours side by side.
//!
//! The same bounds as in `bounds`, over whole hours and coarser where that is cheaper: what is not
//! found here may still be found there.

use fearless_simd::{Simd, f64x4, prelude::*};

use super::bounds::SURE_W_M2;
use super::clock::Second;
use super::nodes::Nodes;
use crate::physics::ephemeris::{SunAngle, SunDay, Turned};
use crate::physics::humidity::settles_no_higher_than;
use crate::physics::lanes::{Lanes, OnFour, inlined, widest};
use crate::physics::optics::Optics;
use crate::physics::radiation::clear_sky_and_cloud_at_least;
use crate::physics::sky;
use crate::physics::sun::Place;
use crate::physics::surface::{DryBalance, nominal_convection_w_m2_k};
use crate::plan::Roof;

const HOUR_MS: i64 = 3_600_000;
/// How much the sine of an elevation, or the cosine of an hour angle, may lie below both of its
/// values at the ends of an hour: the sun turns by at most 7.5° from the nearer one to noon or
/// midnight, `1 - cos 7.5°`, and the declination drifts.
const BELOW_THE_ENDS: f64 = 0.0089;
/// Sine of an elevation from which on the clear sky rises smoothly: 3°.
const WELL_ABOVE: f64 = 0.05;

/// What is sure of the hours of one run.
#[derive(Debug, Default)]
pub(super) struct Screen {
    /// Number of the first hour, and whether each from there on surely stays dry.
    first: usize,
    stays_dry: Vec<bool>,
    /// Whether each is dark or in the sun from end to end.
    sun_stays: Vec<bool>,
    /// How far the sun has turned at the start of each.
    turned: Vec<Turned<f64>>,
}

/// What comes of four hours.
struct Four {
    /// What a sheet that is as cold as any vapor settles loses less what it gains, W/m², in the
    /// coldest surroundings that the hour may bring.
    excess_w_m2: [f64; 4],
    /// 1 where the sun is below the horizon all through the hour, or well above it.
    sun_stays: [f64; 4],
    turned: Turned<[f64; 4]>,
}

/// Four hours in a row of one day of UTC.
struct FourHours<'a> {
    nodes: &'a Nodes,
    at: usize,
    day: SunDay,
    of_day_ms: i64,
    place: &'a Place,
    optics: Optics,
    /// A pressure that is not told, and what one that is told is multiplied by.
    standard_hpa: f64,
    share_of_it: f64,
}

impl Screen {
    /// Looks at every hour from that of `from` to that of `to`.
    pub(super) fn look(
        &mut self,
        roof: &Roof<'_>,
        nodes: &Nodes,
        first_s: i64,
        hours: [Second; 2],
    ) {
        let [from, to] = hours.map(|at| at.hour().unwrap_or(0));
        self.stays_dry.clear();
        self.sun_stays.clear();
        self.turned.clear();
        // Fours that begin with a whole number of them after midnight lie in one day.
        let since_midnight = usize::try_from((first_s / 3600).rem_euclid(24)).unwrap_or(0);
        let early = (from + since_midnight) % 4;
        self.first = from.saturating_sub(early);
        let height = roof.height();
        let Some((optics, standard_hpa)) = roof.optics().zip(height.standard_hpa()) else {
            return;
        };
        let share_of_it = nodes.pressure().share(&height);
        // The first four of a year may begin before it: they are left out.
        if early > from {
            self.first = 4 - early + from;
        }
        while self.first + self.stays_dry.len() <= to {
            let at = self.first + self.stays_dry.len();
            let start_ms = 1000 * first_s + HOUR_MS * i64::try_from(at).unwrap_or(0);
            let Some((day, of_day_ms, place)) = roof.sun_day(start_ms) else { return };
            let four =
                FourHours { nodes, at, day, of_day_ms, place, optics, standard_hpa, share_of_it };
            let Some(Four { excess_w_m2, sun_stays, turned }) = widest(four) else { return };
            let Turned { deg, sin, cos } = turned;
            self.sun_stays.extend(sun_stays.map(|stays| stays > 0.0));
            let turned = |n: usize| Turned { deg: deg[n], sin: sin[n], cos: cos[n] };
            self.turned.extend((0..4).map(turned));
            let hours = (at..).zip(excess_w_m2);
            self.stays_dry.extend(hours.map(|(hour, w_m2)| {
                let no_sun_is_told = nodes.told_radiation(hour).is_none_or(|told| told == 0.0);
                let is_dry = w_m2 < -SURE_W_M2 && no_sun_is_told;
                is_dry && nodes.brings(hour).no_rain() && nodes.is_whole(hour)
            }));
        }
    }

    /// Whether a dry sheet surely stays dry through this hour.
    pub(super) fn stays_dry(&self, hour: usize) -> bool {
        let since_first = hour.checked_sub(self.first);
        since_first.and_then(|at| self.stays_dry.get(at).copied()).unwrap_or(false)
    }

    /// Whether this hour is known to be dark, or in the sun, from end to end.
    pub(super) fn sun_stays(&self, hour: usize) -> bool {
        let since_first = hour.checked_sub(self.first);
        since_first.and_then(|at| self.sun_stays.get(at).copied()).unwrap_or(false)
    }

    /// How far the sun has turned when this hour begins, if it was looked at.
    pub(super) fn turned(&self, hour: usize) -> Option<Turned<f64>> {
        self.turned.get(hour.checked_sub(self.first)?).copied()
    }
}

impl OnFour for FourHours<'_> {
    /// `None` beyond the end of the year.
    type Output = Option<Four>;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Self::Output {
        let four = inlined(
            #[inline(always)]
            |column: &[f64], at: usize| {
                column.get(at..at + 4).map(|four| f64x4::from_slice(simd, four))
            },
        );
        let ends = inlined(
            #[inline(always)]
            |column: &[f64]| Some((four(column, self.at)?, four(column, self.at + 1)?)),
        );
        let (air, dew_point) = (ends(&self.nodes.air_c)?, ends(&self.nodes.dew_point_c)?);
        let (wind, cloud) = (ends(&self.nodes.wind_m_s)?, ends(&self.nodes.cloud_pct)?);
        let standard = f64x4::splat(simd, self.standard_hpa);
        let told = match self.nodes.pressures() {
            [] => (standard, standard),
            pressures => ends(pressures)?,
        };
        let hpa = told.0.lesser(told.1) * self.share_of_it;
        let (begins, turned) = self.sun(simd, 0);
        let (ends, _) = self.sun(simd, HOUR_MS);
        let sin_elevation = begins.sin_elevation.lesser(ends.sin_elevation) - BELOW_THE_ENDS;
        let cos_of_hour = begins.cos_of_hour().lesser(ends.cos_of_hour()) - BELOW_THE_ENDS;
        let air_c = air.0.lesser(air.1);
        let settles_c = settles_no_higher_than(dew_point.0.greater(dew_point.1));
        let driest = dew_point.0.lesser(dew_point.1);
        let sky_c = sky::seen_c(air_c, driest, cos_of_hour, hpa, cloud.0.lesser(cloud.1));
        let clear_w_m2 = clear_sky_and_cloud_at_least(sin_elevation, cloud.0.greater(cloud.1));
        // What the service tells may be less than any sky would let through.
        let told = four(&self.nodes.shortwave_w_m2, self.at)?;
        let sun_w_m2 = f64x4::pick(told.up_to(told), told.all(0.0), clear_w_m2);
        // What warms the sheet by the air is weakest in calm air, what cools it strongest in wind.
        let is_above_air = air_c.below(settles_c);
        let blows = f64x4::pick(is_above_air, wind.0.greater(wind.1), wind.0.lesser(wind.1));
        let convection = nominal_convection_w_m2_k(blows);
        let balance = DryBalance::of(self.optics, air_c, sky_c, sun_w_m2, convection);
        let highest = begins.sin_elevation.greater(ends.sin_elevation) + BELOW_THE_ENDS;
        let (zero, one) = (air_c.all(0.0), air_c.all(1.0));
        let stays = highest.below(zero) | zero.all(WELL_ABOVE).below(sin_elevation);
        let sun_stays = f64x4::pick(stays, one, zero).to_array();
        let Turned { deg, sin, cos } = turned;
        let turned = Turned { deg: deg.to_array(), sin: sin.to_array(), cos: cos.to_array() };
        Some(Four { excess_w_m2: balance.excess(settles_c).to_array(), sun_stays, turned })
    }
}

impl FourHours<'_> {
    /// The sun so many milliseconds after each whole hour.
    #[expect(clippy::cast_precision_loss, reason = "milliseconds of a day")]
    #[inline(always)]
    fn sun<S: Simd>(&self, simd: S, later_ms: i64) -> (SunAngle<f64x4<S>>, Turned<f64x4<S>>) {
        let hour = HOUR_MS as f64;
        let whole_hours = f64x4::simd_from(simd, [0.0, hour, 2.0 * hour, 3.0 * hour]);
        self.day.seen_at(whole_hours + (self.of_day_ms + later_ms) as f64, self.place)
    }
}
