//! What a film meets in the twelve steps of an hour, and the sheet of some minutes, all at once: the
//! same numbers as [`RoofHour::film_weather`] and [`RoofHour::nominal_sheet`] give one by one, for an
//! hour in which everything is plainly known.

use super::roof::RoofHour;
use super::straight_hour::{
    HOUR_STEPS, MINUTES_AT_ONCE, Node, PressureAt, StraightHour, WholeHour,
};
use crate::units::Temperature;

impl RoofHour<'_> {
    /// What leaves a wet sheet in twelfths of the hour from `first` seconds into it, kg/(m² s);
    /// `None` where a value is missing, bridged or out of the range of its formula: then step by
    /// step.
    pub(crate) fn vapor(&self, first: i64) -> Option<[f64; HOUR_STEPS]> {
        self.straight()?.vapor(first)
    }

    /// [`RoofHour::nominal_sheet`] of some minutes, the first `first` seconds into the hour; what
    /// would be beyond it has no meaning. `None` as for [`RoofHour::vapor`].
    pub(crate) fn nominal_sheets(&self, first: i64) -> Option<[Temperature; MINUTES_AT_ONCE]> {
        self.straight()?.sheets_from(first)
    }

    /// The hour, where everything runs straight through it.
    fn straight(&self) -> Option<StraightHour<'_>> {
        let pressure = if !self.surface_pressure.is_gap() {
            PressureAt::Roof
        } else if !self.sea_level_pressure.is_gap() {
            PressureAt::SeaLevel
        } else {
            PressureAt::Nowhere
        };
        let told = match pressure {
            PressureAt::Roof => self.surface_pressure.straight(),
            PressureAt::SeaLevel => self.sea_level_pressure.straight(),
            PressureAt::Nowhere => Some((f64::NAN, f64::NAN)),
        };
        let (air, dew_point) = (self.air.straight()?, self.dew_point.straight()?);
        let (wind, cloud, hpa) = (self.wind.straight()?, self.cloud.straight()?, told?);
        let node = |at: fn((f64, f64)) -> f64| Node {
            air_c: at(air),
            dew_point_c: at(dew_point),
            wind_m_s: at(wind),
            cloud_pct: at(cloud),
            hpa: at(hpa),
            pressure,
        };
        let (begins, ends) = (node(|(begins, _)| begins), node(|(_, ends)| ends));
        let height = self.roof.height();
        let is_whole = begins.is_in_range(&height) && ends.is_in_range(&height);
        let (sun, optics, told) = (self.sun()?, self.roof.optics()?, self.told_radiation);
        is_whole.then(|| StraightHour::of(&WholeHour { begins, ends, height, sun, told, optics }))
    }
}
