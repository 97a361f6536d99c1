//! The sun's radiation on the level roof.

use std::cell::OnceCell;

use chrono::{DateTime, Utc};

use super::ephemeris::{Ephemeris, SunAngle, SunDay, Turned, Turning};
use super::exponential::{exp, ln};
use super::lanes::Lanes;
use super::sun::Place;

/// Points at which an hour's clear sky is sampled for its mean, 3 minutes apart.
const SAMPLES: i32 = 20;
/// Highest believable mean of an hour, W/m²: more than reaches the top of the air.
const HIGHEST_MEAN: f64 = 1500.0;
/// An hour's mean beyond this many clear skies is not a clear sky dimmed by cloud: it is twilight,
/// which the clear-sky formula leaves out. Its shape then says nothing.
const HIGHEST_CLEARNESS: f64 = 2.0;

/// Radiation on the level roof, and what it was worked out from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Radiation {
    /// W/m², never negative.
    pub w_m2: f64,
    /// Where it comes from.
    pub source: Source,
}

/// Where a radiation comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The weather service's mean of the hour.
    Service,
    /// A clear sky, dimmed by the cloud cover.
    ClearSkyAndCloud,
    /// The sun is below the horizon, and the service says nothing else.
    Night,
}

/// So little cloud passes all radiation, to the last digit.
const NO_COVER: f64 = 1e-9;
/// A clear sky at the zenith of air without weight, W/m². Source: Haurwitz1945.
const CLEAR_SKY_W_M2: f64 = 1098.0;
/// Below this an exponential is as good as 0.
const LOWEST_EXPONENT: f64 = -600.0;

/// One hour over one place: the clear sky in it, prepared once for many instants.
#[derive(Debug, Clone)]
pub struct SunHour {
    turning: Turning,
    start_ms: i64,
    /// Worked out when first asked for: only a service's mean needs it.
    clear_mean: OnceCell<f64>,
}

/// Radiation of a clear sky on the level, in W/m², from the sine of the sun's elevation.
///
/// Source: Haurwitz1945: `1098 cos z exp(-0.059 / cos z)`, z the zenith angle. Some print 0.057:
/// 0.2 % more at noon, 2 % more at 5°. 0 with the sun on or below the horizon; twilight, a few W/m²,
/// is left out. `None` unless the sine is from -1 to 1.
pub fn haurwitz1945_w_m2(sin_elevation: f64) -> Option<f64> {
    if !(-1.0..=1.0).contains(&sin_elevation) {
        return None;
    }
    Some(clear_sky(sin_elevation))
}

/// Share of a clear sky's radiation that passes this much cloud, 1 to 0.25.
///
/// Source: KastenCzeplak1980: `1 - 0.75 (N / 8)^3.4`, N in eighths, fitted to ten years of Hamburg.
/// `None` unless the cover is from 0 to 100 %.
pub fn kasten_czeplak1980(cloud_cover_pct: f64) -> Option<f64> {
    let sound = (0.0..=100.0).contains(&cloud_cover_pct);
    sound.then(|| passing(cloud_cover_pct))
}

/// [`kasten_czeplak1980`] of a cover that is known to be in its range.
#[inline(always)]
fn passing<L: Lanes>(cloud_cover_pct: L) -> L {
    let cover = (cloud_cover_pct / 100.0).greater(cloud_cover_pct.all(NO_COVER));
    (exp(ln(cover) * 3.4) * 0.75).taken_from(1.0)
}

impl SunHour {
    /// The hour `[start, start + 1 h)` over `place`; `None` where `ephemeris` does not cover it.
    ///
    /// For hours that do not run over a midnight of UTC: whole hours never do.
    pub fn new(ephemeris: &Ephemeris, place: &Place, start: DateTime<Utc>) -> Option<Self> {
        Self::from_unix_ms(ephemeris, place, start.timestamp_millis())
    }

    /// [`SunHour::new`] from an instant in milliseconds since 1970.
    pub(crate) fn from_unix_ms(
        ephemeris: &Ephemeris,
        place: &Place,
        start_ms: i64,
    ) -> Option<Self> {
        let (day, of_day_ms) = ephemeris.day_of(start_ms)?;
        let turning = day.turn_from(of_day_ms, place);
        Some(Self { turning, start_ms, clear_mean: OnceCell::new() })
    }

    /// [`SunHour::new`] where it is known how far the sun has turned by the hour's start, so many
    /// milliseconds into its day.
    pub(crate) fn turned(
        day: &SunDay,
        place: &Place,
        of_day_ms: i64,
        start_ms: i64,
        turned: Turned<f64>,
    ) -> Self {
        let turning = day.turning(of_day_ms, place, turned);
        Self { turning, start_ms, clear_mean: OnceCell::new() }
    }

    /// The sun at an instant of the hour; `None` outside it.
    pub fn sun_at(&self, at: DateTime<Utc>) -> Option<SunAngle> {
        let into_hour_ms = at.timestamp_millis() - self.start_ms;
        (0..3_600_000).contains(&into_hour_ms).then(|| self.sun_after(into_hour_ms))
    }

    /// The sun this many milliseconds into the hour.
    pub(crate) fn sun_after(&self, into_hour_ms: i64) -> SunAngle {
        self.turning.sun_after(into_hour_ms)
    }

    /// [`SunHour::sun_after`] for whole milliseconds that are counted in a column of numbers.
    #[inline(always)]
    pub(crate) fn sun_after_ms<L: Lanes>(&self, into_hour_ms: L) -> SunAngle<L> {
        self.turning.sun_after_ms(into_hour_ms)
    }

    /// Whether the sun may pass noon or midnight within the hour.
    pub(crate) fn passes_noon_or_midnight(&self) -> bool {
        self.turning.passes_noon_or_midnight()
    }

    /// Mean of the clear sky over the hour, W/m².
    pub fn clear_mean_w_m2(&self) -> f64 {
        *self.clear_mean.get_or_init(|| {
            let spacing_ms = 3_600_000 / i64::from(SAMPLES);
            let middle_ms = |sample: i32| spacing_ms / 2 + spacing_ms * i64::from(sample);
            let clear = |sample| clear_sky(self.sun_after(middle_ms(sample)).sin_elevation);
            (0..SAMPLES).map(clear).sum::<f64>() / f64::from(SAMPLES)
        })
    }

    /// Radiation on the level roof at an instant of this hour.
    ///
    /// The service's mean of the hour, where there is one, is spread over the hour in the shape of
    /// the clear sky, so that the mean stays what the service says, also when the sun rises or sets
    /// within the hour; in twilight it stays level. Without it, [`haurwitz1945_w_m2`] is dimmed by
    /// [`kasten_czeplak1980`]. Without cloud cover either, the radiation is unknown by day
    /// (`None`, never 0) and 0 with the sun below the horizon.
    ///
    /// A mean that is negative, above 1500 W/m² or not a number is no mean, and a cloud cover
    /// outside 0 to 100 % is no cover. `None` for an instant outside the hour.
    pub fn radiation(
        &self,
        at: DateTime<Utc>,
        service_mean_w_m2: Option<f64>,
        cloud_cover_pct: Option<f64>,
    ) -> Option<Radiation> {
        self.radiation_under(&self.sun_at(at)?, service_mean_w_m2, cloud_cover_pct)
    }

    /// [`SunHour::radiation`] where the sun of that instant is known already.
    pub(crate) fn radiation_under(
        &self,
        sun: &SunAngle,
        service_mean_w_m2: Option<f64>,
        cloud_cover_pct: Option<f64>,
    ) -> Option<Radiation> {
        let clear = clear_sky(sun.sin_elevation);
        if let Some(shape) = self.shape(service_mean_w_m2) {
            return Some(Radiation { w_m2: shape.of(clear), source: Source::Service });
        }
        if sun.sin_elevation <= 0.0 {
            return Some(Radiation { w_m2: 0.0, source: Source::Night });
        }
        let passes = cloud_cover_pct.and_then(kasten_czeplak1980)?;
        Some(Radiation { w_m2: clear * passes, source: Source::ClearSkyAndCloud })
    }

    /// [`SunHour::radiation`] in W/m² at many instants of the hour, their sun and cloud cover in
    /// columns: every cover from 0 to 100 %.
    #[inline(always)]
    pub(crate) fn radiations<L: Lanes, const N: usize>(
        &self,
        sin_elevation: &[L; N],
        service_mean_w_m2: Option<f64>,
        cloud_cover_pct: &[L; N],
    ) -> [L; N] {
        let mut w_m2 = *sin_elevation;
        let mut is_day = false;
        for sun in &mut w_m2 {
            let zero = sun.all(0.0);
            is_day |= L::any(zero.below(*sun));
            *sun = zero;
        }
        if let Some(shape) = self.shape(service_mean_w_m2) {
            for n in 0..N {
                w_m2[n] = shape.of(clear_sky(sin_elevation[n]));
            }
        } else if is_day {
            // By night there is nothing to pass.
            for n in 0..N {
                w_m2[n] = clear_sky(sin_elevation[n]) * passing(cloud_cover_pct[n]);
            }
        }
        w_m2
    }

    /// [`SunHour::radiation`] in W/m² for a sine of the sun's elevation and a cloud cover from 0 to
    /// 100 %: it rises with the one and falls with the other.
    pub(crate) fn radiation_of(
        &self,
        sin_elevation: f64,
        service_mean_w_m2: Option<f64>,
        cloud_cover_pct: f64,
    ) -> f64 {
        let [w_m2] = self.radiations(&[sin_elevation], service_mean_w_m2, &[cloud_cover_pct]);
        w_m2
    }

    /// [`SunHour::radiation_of`], least and most, while the clear sky and what passes the cloud stay
    /// between values at the ends of a stretch; the sine of the elevation may go beyond its ends by
    /// `beyond`.
    #[inline(always)]
    pub(crate) fn radiation_between<L: Lanes>(
        &self,
        sin_elevation: L,
        cloud_cover_pct: L,
        service_mean_w_m2: Option<f64>,
        beyond: L,
        between: impl Fn(L) -> (L, L),
    ) -> (L, L) {
        // e^-x (1 + x) is never above 1, so that a clear sky rises no faster than this.
        let beyond = beyond * CLEAR_SKY_W_M2;
        let (least, most) = between(clear_sky(sin_elevation));
        let (least, most) = ((least - beyond).greater(least.all(0.0)), most + beyond);
        if let Some(shape) = self.shape(service_mean_w_m2) {
            return (shape.of(least), shape.of(most));
        }
        let (least_passes, most_passes) = between(passing(cloud_cover_pct));
        (least * least_passes, most * most_passes)
    }

    /// How a service's mean is spread over the hour, where there is one.
    #[inline(always)]
    fn shape(&self, service_mean_w_m2: Option<f64>) -> Option<Shape> {
        let mean = service_mean_w_m2.filter(|mean| (0.0..=HIGHEST_MEAN).contains(mean))?;
        let clear_mean = self.clear_mean_w_m2();
        Some(if mean > HIGHEST_CLEARNESS * clear_mean {
            Shape { level_w_m2: mean, share: 0.0 }
        } else {
            // A mean that is not above the limit with no clear sky at all is 0.
            let share = if clear_mean > 0.0 { mean / clear_mean } else { 0.0 };
            Shape { level_w_m2: 0.0, share }
        })
    }
}

/// A radiation that is level, or a share of a clear sky's.
#[derive(Clone, Copy)]
struct Shape {
    level_w_m2: f64,
    share: f64,
}

impl Shape {
    #[inline(always)]
    fn of<L: Lanes>(self, clear: L) -> L {
        clear * self.share + self.level_w_m2
    }
}

/// No more than [`haurwitz1945_w_m2`] dimmed by [`kasten_czeplak1980`], W/m², never negative, for a
/// sine of the sun's elevation up to 1 and a cloud cover from 0 to 100 %, without exponential or
/// power: `e^-x` is no less than `1 - x`, and `N^3.4` no more than `N^3`.
#[inline(always)]
pub(crate) fn clear_sky_and_cloud_at_least<L: Lanes>(sin_elevation: L, cloud_cover_pct: L) -> L {
    let zero = sin_elevation.all(0.0);
    let cover = cloud_cover_pct / 100.0;
    let passes = (cover * cover * cover * 0.75).taken_from(1.0);
    ((sin_elevation - 0.059) * CLEAR_SKY_W_M2 * passes).greater(zero)
}

/// Haurwitz's formula for a sine already known to be one.
#[inline(always)]
fn clear_sky<L: Lanes>(cos_z: L) -> L {
    let zero = cos_z.all(0.0);
    let exponent = (cos_z.inverse() * -0.059).greater(cos_z.all(LOWEST_EXPONENT));
    L::pick(zero.below(cos_z), cos_z * CLEAR_SKY_W_M2 * exp(exponent), zero)
}
