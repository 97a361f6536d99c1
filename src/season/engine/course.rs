//! Air and sheet of one shift, worked out only where the walk has to look.

use chrono::{DateTime, TimeDelta, Timelike, Utc};

use super::bounds::{Bounds, Roofing, Stretch, SunBetween, Surely};
use super::nodes::Nodes;
use crate::physics::ephemeris::SunAngle;
use crate::plan::{Course, LastTest, Limits, Roof, SunOfHour};
use crate::units::Temperature;
use crate::weather::{Forecast, floor_hour};

/// Room for the rounding of a screen against the plan's own numbers, in kelvin.
const ROUNDING_K: f64 = 1e-4;
/// Minutes that a screen looks at together: an hour's rest, a quarter, the least.
const CHUNKS: [i64; 3] = [60, 15, 5];

/// The roof of one site under one year, with the hour's sun that was asked for last.
pub(super) struct Sight<'a> {
    pub(super) roof: &'a Roof<'a>,
    pub(super) forecast: &'a Forecast,
    pub(super) nodes: &'a Nodes,
    pub(super) roofing: Roofing,
    hour: SunOfHour<'a>,
    /// The sun at two moments, the later one first: the next stretch begins where one ended.
    known_sun: [(DateTime<Utc>, Option<SunAngle>); 2],
}

impl<'a> Sight<'a> {
    pub(super) fn new(roof: &'a Roof<'a>, forecast: &'a Forecast, nodes: &'a Nodes) -> Self {
        let first = forecast.first();
        Self {
            roof,
            forecast,
            nodes,
            roofing: Roofing::new(roof.optics(), roof.elevation()),
            hour: roof.sun_of_hour(first),
            known_sun: [(first, roof.sun_at(first)); 2],
        }
    }

    /// The sun of the hour that begins at `start`.
    pub(super) fn sun_of_hour(&mut self, start: DateTime<Utc>) -> &SunOfHour<'a> {
        if self.hour.start() != start {
            self.hour = self.roof.sun_of_hour(start);
        }
        &self.hour
    }

    fn sun_at(&mut self, time: DateTime<Utc>) -> Option<SunAngle> {
        if let Some((_, known)) = self.known_sun.iter().find(|(at, _)| *at == time) {
            return *known;
        }
        let sun = self.roof.sun_at(time);
        self.known_sun = [(time, sun), self.known_sun[0]];
        sun
    }

    /// What is sure of the surroundings from `from` to `to`, both in one hour or at its end.
    pub(super) fn surely(&mut self, from: DateTime<Utc>, to: DateTime<Utc>) -> Surely {
        let start = floor_hour(from);
        let Some(hour) = self.nodes.hour_of(start) else { return Surely::Doubt };
        let stretch = Stretch { hour, from: share(from - start), to: share(to - start) };
        let ends = self.sun_at(from).zip(self.sun_at(to));
        self.sun_of_hour(start);
        let sun = ends.map(|(from, to)| SunBetween { from, to, hour: &self.hour });
        Bounds::of(self.nodes, &self.roofing, stretch, sun)
    }
}

/// One shift of it.
pub(super) struct ShiftCourse<'s, 'a> {
    pub(super) sight: &'s mut Sight<'a>,
    pub(super) start: DateTime<Utc>,
    /// Up to here a screen has failed already.
    loud_until: usize,
}

impl<'s, 'a> ShiftCourse<'s, 'a> {
    pub(super) const fn new(sight: &'s mut Sight<'a>, start: DateTime<Utc>) -> Self {
        Self { sight, start, loud_until: 0 }
    }

    fn time(&self, minute: usize) -> DateTime<Utc> {
        self.start + TimeDelta::minutes(i64::try_from(minute).unwrap_or(i64::MAX))
    }

    /// Whether neither air nor sheet moves as far as `limits` from `last` in `[from, to]`.
    fn is_quiet(
        &mut self,
        from: DateTime<Utc>,
        to: DateTime<Utc>,
        last: &LastTest,
        limits: &Limits<'_>,
    ) -> bool {
        let most = limits.rules.ambient_change.kelvin() - ROUNDING_K;
        let near = |at: DateTime<Utc>| {
            self.sight.forecast.air_at(at).is_some_and(|air| (air - last.air).kelvin().abs() < most)
        };
        if !(near(from) && near(to)) {
            return false;
        }
        let Some((sheet, rise)) = last.sheet.zip(last.rise_per_sheet_drop) else { return true };
        let reach = limits.center.limit.kelvin() / rise.abs() - ROUNDING_K;
        match self.sight.surely(from, to) {
            Surely::Between(bounds) => {
                let at = |step: f64| Temperature::from_celsius(sheet.celsius() + step);
                reach > 0.0 && bounds.warmer(at(-reach)) && bounds.colder(at(reach))
            }
            // At a whole hour, something can be known that is unknown to both sides of it.
            Surely::Unknown => from.minute() != 0,
            Surely::Doubt => false,
        }
    }
}

impl Course for ShiftCourse<'_, '_> {
    fn air(&mut self, minute: usize) -> Temperature {
        // A shift is walked only where every minute has its air.
        let nowhere = Temperature::from_celsius(f64::NAN);
        self.sight.forecast.air_at(self.time(minute)).unwrap_or(nowhere)
    }

    fn sheet(&mut self, minute: usize) -> Option<Temperature> {
        let time = self.time(minute);
        self.sight.sun_of_hour(floor_hour(time));
        self.sight.roof.nominal_sheet(time, &self.sight.hour)
    }

    fn quiet_until(&mut self, minute: usize, last: &LastTest, limits: &Limits<'_>) -> usize {
        if minute < self.loud_until {
            return minute;
        }
        let from = self.time(minute);
        if from.second() != 0 {
            // Zones of a century ago: their minutes do not end with the hour.
            return minute;
        }
        let into_hour = i64::from(from.minute());
        for chunk in CHUNKS {
            // To the end of the hour, of its quarter, of its five minutes.
            let ends = (into_hour / chunk + 1) * chunk;
            let to = from + TimeDelta::minutes(ends - into_hour);
            let past = minute + usize::try_from(ends - into_hour).unwrap_or(1);
            if self.is_quiet(from, to, last, limits) {
                return past;
            }
            self.loud_until = past;
        }
        minute
    }
}

#[expect(clippy::cast_precision_loss, reason = "seconds of an hour")]
fn share(into_hour: TimeDelta) -> f64 {
    into_hour.num_seconds() as f64 / 3600.0
}
