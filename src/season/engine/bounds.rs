//! What is sure of the sheet over a stretch of an hour, without working out its minutes.
//!
//! Within an hour every value runs straight from one whole hour to the next, and the sheet gets
//! warmer with warmer air, a warmer sky and more sun. So the corners of a stretch bound the balance
//! of every minute in it: where the balance at some temperature already gains at the coldest
//! corner, the sheet is warmer than that at each minute. One polynomial, no search for a root.
//! Whatever is not sure is worked out minute by minute, by the plan's own functions.

use super::clock::Second;
use super::nodes::Nodes;
use crate::physics::ephemeris::SunAngle;
use crate::physics::optics::Optics;
use crate::physics::pressure::Height;
use crate::physics::radiation::SunHour;
use crate::physics::surface::{
    DryBalance, MOST_SHORTWAVE_W_M2, MOST_WIND_M_S, Surroundings, nominal_convection_w_m2_k,
};
use crate::physics::wet_bounds::WetBounds;
use crate::physics::{humidity, sky};
use crate::units::Temperature;

/// Surplus of a balance that counts as sure, W/m²: rounding comes to a millionth of it.
pub(super) const SURE_W_M2: f64 = 1e-3;
/// The sun's declination drifts by less than this within an hour, radians.
pub(super) const DECLINATION_DRIFT: f64 = 3e-4;
/// Added to a count of half turns, it leaves none below 0 and even ones even.
const EVEN_HALF_TURNS: i32 = 16;

/// A stretch within one hour.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    pub(super) hour: usize,
    /// Begin and end as shares of the hour, 0 to 1.
    pub(super) from: f64,
    pub(super) to: f64,
}

impl Stretch {
    /// From one second to another of the same hour, or its end; `None` before the first hour.
    #[expect(clippy::cast_precision_loss, reason = "seconds of an hour")]
    pub(super) fn of(from: Second, to: Second) -> Option<Self> {
        let start = from.hour_start();
        let share = |at: Second| (at.0 - start.0) as f64 / 3600.0;
        Some(Self { hour: start.hour()?, from: share(from), to: share(to) })
    }
}

/// What is sure of the sheet's surroundings over a stretch.
#[derive(Debug, Clone, Copy)]
pub(super) enum Surely<'a> {
    /// They lie between these.
    Between(Bounds<'a>),
    /// Something is missing at every moment between the stretch's ends, so that nothing is known.
    Unknown,
    /// Neither.
    Doubt,
}

/// Least and most of what bears on the sheet, every value in the range of its formula. What they
/// come to at either end is worked out where it is asked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bounds<'a> {
    optics: Optics,
    sun: &'a SunHour,
    /// The service's radiation, W/m².
    told: Option<f64>,
    turn: Turn,
    air_c: (f64, f64),
    cloud_pct: (f64, f64),
    dew_point_c: (f64, f64),
    /// Convection, W/(m² K).
    convection: (f64, f64),
    /// Pressure at the roof, hPa.
    hpa: (f64, f64),
}

/// The roof as far as bounds depend on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Roofing {
    optics: Option<Optics>,
    height: Height,
}

impl Roofing {
    pub(super) const fn new(optics: Option<Optics>, height: Height) -> Self {
        Self { optics, height }
    }
}

/// The sun at both ends of a stretch.
#[derive(Clone, Copy)]
pub(super) struct SunBetween<'a> {
    pub(super) from: SunAngle,
    pub(super) to: SunAngle,
    pub(super) hour: &'a SunHour,
}

impl<'a> Bounds<'a> {
    /// What is sure of a stretch.
    pub(super) fn of(
        nodes: &Nodes,
        roofing: &Roofing,
        stretch: Stretch,
        sun: Option<SunBetween<'a>>,
    ) -> Surely<'a> {
        let (Some(optics), Some(sun)) = (roofing.optics, sun) else { return Surely::Unknown };
        let between = |column: &[f64]| between(column, stretch);
        let (Some(air), Some(cloud), Some(wind)) =
            (between(&nodes.air_c), between(&nodes.cloud_pct), between(&nodes.wind_m_s))
        else {
            return Surely::Unknown;
        };
        let Some(dew_point_c) = dew_point_between(nodes, stretch, air) else {
            return Surely::Unknown;
        };
        Self::within(nodes, roofing, stretch, optics, &sun, [air, cloud, wind, dew_point_c])
            .map_or(Surely::Doubt, Surely::Between)
    }

    /// The bounds, where every value is in the range of its formula.
    fn within(
        nodes: &Nodes,
        roofing: &Roofing,
        stretch: Stretch,
        optics: Optics,
        sun: &SunBetween<'a>,
        [air_c, cloud_pct, wind, dew_point_c]: [(f64, f64); 4],
    ) -> Option<Self> {
        let hpa = pressure_between(nodes, roofing, stretch)?;
        let sound = is_within(air_c, -90.0, 60.0)
            && is_within(cloud_pct, 0.0, 100.0)
            && is_within(wind, 0.0, MOST_WIND_M_S)
            && is_within(dew_point_c, -80.0, 50.0)
            && is_within(hpa, 300.0, 1100.0);
        let turn = Turn::of(sun);
        let told = nodes.told_radiation(stretch.hour);
        let bounds = Self {
            optics,
            sun: sun.hour,
            told,
            turn,
            air_c,
            cloud_pct,
            dew_point_c,
            convection: (nominal_convection_w_m2_k(wind.0), nominal_convection_w_m2_k(wind.1)),
            hpa,
        };
        // A clear sky alone never shines more than is believed.
        let sound =
            sound && (told.is_none() || bounds.warm().shortwave_w_m2 <= MOST_SHORTWAVE_W_M2);
        sound.then_some(bounds)
    }

    /// The coldest surroundings that may be.
    fn cold(&self) -> Surroundings {
        let Turn { sin_elevation, cos_of_hour } = self.turn;
        let sun_w_m2 = self.sun.radiation_of(sin_elevation.0, self.told, self.cloud_pct.1);
        let (air_c, dew_point_c) = (self.air_c.0, self.dew_point_c.0);
        let sky_c = sky::seen_c(air_c, dew_point_c, cos_of_hour.0, self.hpa.0, self.cloud_pct.0);
        surroundings(air_c, sky_c, sun_w_m2)
    }

    /// The warmest.
    fn warm(&self) -> Surroundings {
        let Turn { sin_elevation, cos_of_hour } = self.turn;
        let sun_w_m2 = self.sun.radiation_of(sin_elevation.1, self.told, self.cloud_pct.0);
        let (air_c, dew_point_c) = (self.air_c.1, self.dew_point_c.1);
        let sky_c = sky::seen_c(air_c, dew_point_c, cos_of_hour.1, self.hpa.1, self.cloud_pct.1);
        surroundings(air_c, sky_c, sun_w_m2)
    }

    /// Whether the sheet is surely warmer than `than` all the time.
    pub(super) fn warmer(&self, than: Temperature) -> bool {
        let (least, most) = self.convection;
        let convection = if than.celsius() > self.air_c.0 { most } else { least };
        DryBalance::new(self.optics, &self.cold(), convection).excess(than.celsius()) < -SURE_W_M2
    }

    /// Whether the sheet is surely colder than `than` all the time.
    pub(super) fn colder(&self, than: Temperature) -> bool {
        let (least, most) = self.convection;
        let convection = if than.celsius() > self.air_c.1 { least } else { most };
        DryBalance::new(self.optics, &self.warm(), convection).excess(than.celsius()) > SURE_W_M2
    }

    /// Whether a dry sheet surely takes up neither dew nor frost.
    pub(super) fn stays_dry(&self) -> bool {
        let settles_below = humidity::settles_no_higher_than(self.dew_point_c.1);
        self.warmer(Temperature::from_celsius(settles_below))
    }
}

impl Bounds<'_> {
    /// Whether a wet sheet surely loses less than this all the time, mm/h above 0.
    pub(super) fn loses_less_than(&self, mm_per_h: f64) -> bool {
        let air_c = self.air_c;
        let within = WetBounds {
            warm: self.warm(),
            dew_point_c: (self.dew_point_c.0.min(air_c.0), self.dew_point_c.1.min(air_c.1)),
            convection_w_m2_k: self.convection,
            surface_pressure_hpa: self.hpa,
        };
        within.loses_less_than(self.optics, mm_per_h, SURE_W_M2)
    }
}

fn is_within((low, high): (f64, f64), least: f64, most: f64) -> bool {
    least <= low && low <= most && least <= high && high <= most
}

fn surroundings(air_c: f64, sky_c: f64, shortwave_w_m2: f64) -> Surroundings {
    let [air, sky] = [air_c, sky_c].map(Temperature::from_celsius);
    Surroundings { air, sky, shortwave_w_m2 }
}

/// How the sun turns over a stretch.
#[derive(Debug, Clone, Copy)]
struct Turn {
    sin_elevation: (f64, f64),
    cos_of_hour: (f64, f64),
}

impl Turn {
    fn of(sun: &SunBetween<'_>) -> Self {
        let (from, to) = (sun.from, sun.to);
        // Half a turn is counted from a little before it, so that none is missed. Within one hour
        // the sun turns on without a leap, and two turns either way are the most that it is off.
        #[expect(clippy::cast_possible_truncation, reason = "a few half turns")]
        let half_turns = |deg: f64| (deg / 180.0 + f64::from(EVEN_HALF_TURNS)) as i32;
        let first = half_turns(from.hour_angle_deg() - 0.5);
        let passes = half_turns(to.hour_angle_deg() + 0.5) > first;
        let (mut low, mut high) = sorted(from.sin_elevation, to.sin_elevation);
        let (mut hour_low, mut hour_high) = sorted(from.cos_of_hour(), to.cos_of_hour());
        if passes {
            // At noon or midnight the sun is no further from the nearer end than this.
            let beyond = (1.0 - from.cos_of_hour().abs()).max(1.0 - to.cos_of_hour().abs());
            if (first + 1) % 2 == 0 {
                high += beyond;
                hour_low = -1.0;
            } else {
                low -= beyond;
                hour_high = 1.0;
            }
        }
        let sin_elevation =
            ((low - DECLINATION_DRIFT).max(-1.0), (high + DECLINATION_DRIFT).min(1.0));
        Self { sin_elevation, cos_of_hour: (hour_low, hour_high) }
    }
}

fn sorted(one: f64, other: f64) -> (f64, f64) {
    (one.min(other), one.max(other))
}

/// Least and most of a column over a stretch; `None` where an end of its hour is unknown.
pub(super) fn between(column: &[f64], stretch: Stretch) -> Option<(f64, f64)> {
    let (begins, ends) = (*column.get(stretch.hour)?, *column.get(stretch.hour + 1)?);
    let at = |share: f64| begins + (ends - begins) * share;
    (!(begins + ends).is_nan()).then(|| sorted(at(stretch.from), at(stretch.to)))
}

/// Dew points, told or from the humidity.
fn dew_point_between(nodes: &Nodes, stretch: Stretch, air: (f64, f64)) -> Option<(f64, f64)> {
    if let Some(told) = between(&nodes.dew_point_c, stretch) {
        return Some(told);
    }
    let humidity = between(&nodes.humidity_pct, stretch)?;
    let dew_point = |air_c, pct| humidity::dew_point(Temperature::from_celsius(air_c), pct);
    // Out of range, it is as good as unknown here and a doubt to the caller: not a number.
    let celsius = |dew_point: Option<Temperature>| dew_point.map_or(f64::NAN, Temperature::celsius);
    let (mut low, mut high) =
        (celsius(dew_point(air.0, humidity.0)), celsius(dew_point(air.1, humidity.1)));
    // A dew point told for one end only holds at that very moment.
    for end in [stretch.hour, stretch.hour + 1] {
        if let Some(told) = nodes.dew_point_c.get(end).filter(|told| !told.is_nan()) {
            (low, high) = (low.min(*told), high.max(*told));
        }
    }
    Some((low, high))
}

/// Pressures, by whichever of their sources.
fn pressure_between(nodes: &Nodes, roofing: &Roofing, stretch: Stretch) -> Option<(f64, f64)> {
    if let Some(told) = between(&nodes.surface_hpa, stretch) {
        return Some(told);
    }
    let standard = roofing.height.standard_hpa()?;
    let at_roof = |sea: f64| roofing.height.with_sea_level_hpa(sea).unwrap_or(standard);
    let mut bounds = (standard, standard);
    for end in [stretch.hour, stretch.hour + 1] {
        let surface = nodes.surface_hpa.get(end).copied().filter(|hpa| !hpa.is_nan());
        let sea = nodes.sea_level_hpa.get(end).copied().filter(|hpa| !hpa.is_nan());
        for hpa in [surface, sea.map(at_roof)].into_iter().flatten() {
            bounds = (bounds.0.min(hpa), bounds.1.max(hpa));
        }
    }
    Some(bounds)
}
