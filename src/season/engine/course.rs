//! Air and sheet of one shift, worked out only where the walk has to look.

use chrono::{DateTime, Utc};

use super::bounds::{Bounds, Roofing, Stretch, SunBetween, Surely};
use super::clock::Second;
use super::nodes::Nodes;
use crate::physics::ephemeris::SunAngle;
use crate::plan::{Course, LastTest, Limits, Roof, RoofHour};
use crate::units::Temperature;
use crate::weather::Forecast;

/// Room for the rounding of a screen against the plan's own numbers, in kelvin.
const ROUNDING_K: f64 = 1e-4;
/// Minutes that a screen looks at together: an hour's rest, a quarter, the least.
const CHUNKS: [i64; 3] = [60, 15, 5];

/// The roof of one site under one year, with the hour that was looked at last.
pub(super) struct Sight<'a> {
    pub(super) roof: &'a Roof<'a>,
    pub(super) forecast: &'a Forecast,
    pub(super) nodes: &'a Nodes,
    pub(super) first: DateTime<Utc>,
    first_ms: i64,
    roofing: Roofing,
    hour: (Second, RoofHour<'a>),
    /// The sun at the moments asked for last: the next stretch begins where one ended.
    suns: [(Second, Option<SunAngle>); 2],
}

impl<'a> Sight<'a> {
    pub(super) fn new(roof: &'a Roof<'a>, forecast: &'a Forecast, nodes: &'a Nodes) -> Self {
        let first = forecast.first();
        Self {
            roof,
            forecast,
            nodes,
            first,
            first_ms: first.timestamp_millis(),
            roofing: Roofing::new(roof.optics(), roof.height()),
            hour: (Second(0), roof.hour(first)),
            suns: [(Second(0), roof.sun_at_unix_ms(first.timestamp_millis())); 2],
        }
    }

    /// The hour that `at` lies in.
    pub(super) fn hour(&mut self, at: Second) -> &RoofHour<'a> {
        let start = at.hour_start();
        if self.hour.0 != start {
            self.hour = (start, self.roof.hour(start.instant(self.first)));
        }
        &self.hour.1
    }

    fn sun_at(&mut self, at: Second) -> Option<SunAngle> {
        if let Some((_, known)) = self.suns.iter().find(|(time, _)| *time == at) {
            return *known;
        }
        let sun = self.roof.sun_at_unix_ms(self.first_ms + 1000 * at.0);
        self.suns = [(at, sun), self.suns[0]];
        sun
    }

    /// What is sure of the surroundings from `from` to `to`, both in one hour or at its end.
    pub(super) fn surely(&mut self, from: Second, to: Second) -> Surely {
        let Some(stretch) = Stretch::of(from, to) else { return Surely::Doubt };
        let ends = self.sun_at(from).zip(self.sun_at(to));
        self.hour(from);
        let sun = ends.map(|(from, to)| SunBetween { from, to, hour: &self.hour.1 });
        Bounds::of(self.nodes, &self.roofing, stretch, sun)
    }

    /// Air at one moment.
    pub(super) fn air(&mut self, at: Second) -> Option<Temperature> {
        self.hour(at).air(at.into_hour())
    }
}

/// One shift of it.
pub(super) struct ShiftCourse<'s, 'a> {
    sight: &'s mut Sight<'a>,
    start: Second,
    /// Up to here a screen has failed already.
    loud_until: usize,
}

impl<'s, 'a> ShiftCourse<'s, 'a> {
    pub(super) const fn new(sight: &'s mut Sight<'a>, start: Second) -> Self {
        Self { sight, start, loud_until: 0 }
    }

    /// Whether neither air nor sheet moves as far as `limits` from `last` in `[from, to]`.
    fn is_quiet(&mut self, from: Second, to: Second, last: &LastTest, limits: &Limits<'_>) -> bool {
        let Some(stretch) = Stretch::of(from, to) else { return false };
        let most = limits.rules.ambient_change.kelvin() - ROUNDING_K;
        let near = |air_c: f64| (air_c - last.air.celsius()).abs() < most;
        if !self.sight.nodes.air_between(stretch).is_some_and(|(low, high)| near(low) && near(high))
        {
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
            Surely::Unknown => from.into_hour() != 0,
            Surely::Doubt => false,
        }
    }
}

impl Course for ShiftCourse<'_, '_> {
    fn air(&mut self, minute: usize) -> Temperature {
        // A shift is walked only where every minute has its air.
        let nowhere = Temperature::from_celsius(f64::NAN);
        self.sight.air(self.start.plus_minutes(minute)).unwrap_or(nowhere)
    }

    fn sheet(&mut self, minute: usize) -> Option<Temperature> {
        let at = self.start.plus_minutes(minute);
        self.sight.hour(at).nominal_sheet(at.into_hour())
    }

    fn quiet_until(&mut self, minute: usize, last: &LastTest, limits: &Limits<'_>) -> usize {
        let from = self.start.plus_minutes(minute);
        // Zones of a century ago have minutes that do not end with the hour.
        if minute < self.loud_until || from.into_hour() % 60 != 0 {
            return minute;
        }
        let into_hour = from.into_hour() / 60;
        for chunk in CHUNKS {
            // To the end of the hour, of its quarter, of its five minutes.
            let ahead = (into_hour / chunk + 1) * chunk - into_hour;
            let past = minute + usize::try_from(ahead).unwrap_or(1);
            if self.is_quiet(from, from.plus(60 * ahead), last, limits) {
                return past;
            }
            self.loud_until = past;
        }
        minute
    }
}
