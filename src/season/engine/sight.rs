//! The roof of one site under one year, looked at an hour at a time.

use chrono::{DateTime, Utc};

use super::bounds::{Bounds, Roofing, Stretch, SunBetween, Surely};
use super::clock::Second;
use super::nodes::Nodes;
use super::screen::Screen;
use super::smooth::{HOURS, SmoothHour, is_smooth, smooth_hours};
use super::thirds::Thirds;
use crate::physics::radiation::SunHour;
use crate::plan::{
    DryMinutes, HOUR_STEPS, MINUTES_AT_ONCE, Roof, RoofHour, StraightHour, WholeHour,
};
use crate::units::Temperature;
use crate::weather::Forecast;

/// More than a day's run of water is long.
const HOURS_KEPT: usize = 32;

/// The roof of one site under one year, with the hour that was looked at last.
pub(super) struct Sight<'a> {
    pub(super) roof: &'a Roof<'a>,
    pub(super) forecast: &'a Forecast,
    pub(super) nodes: &'a Nodes,
    pub(super) first: DateTime<Utc>,
    first_s: i64,
    roofing: Roofing,
    /// The hours that were looked at last, each at its number's remainder: a day's water and its
    /// shift look at the same ones.
    hours: [Option<(Second, RoofHour<'a>)>; HOURS_KEPT],
    /// Their sun, which is all that bounds ask for.
    suns: [Option<(Second, Option<SunHour>)>; HOURS_KEPT],
    /// What the thirds of an hour may bring; `None` where that is not worked out at once.
    thirds: [Option<(Second, Option<Thirds>)>; HOURS_KEPT],
    screen: Screen,
}

impl<'a> Sight<'a> {
    pub(super) fn new(roof: &'a Roof<'a>, forecast: &'a Forecast, nodes: &'a Nodes) -> Self {
        let first = forecast.first();
        Self {
            roof,
            forecast,
            nodes,
            first,
            first_s: first.timestamp(),
            roofing: Roofing::new(roof.optics(), roof.height()),
            hours: [const { None }; HOURS_KEPT],
            suns: [const { None }; HOURS_KEPT],
            thirds: [const { None }; HOURS_KEPT],
            screen: Screen::default(),
        }
    }

    /// What leaves a wet sheet in twelfths of an hour from `at` on, kg/(m² s), and the rain that falls
    /// on it, mm/h; `None` where the hour has to be gone through step by step.
    pub(super) fn vapor(&mut self, at: Second) -> Option<([f64; HOUR_STEPS], f64)> {
        let rain_mm_per_h = self.rain(at)?;
        let vapor = match self.straight(at) {
            Some(straight) => straight.vapor(at.into_hour()),
            None => self.hour(at).vapor(at.into_hour()),
        };
        Some((vapor?, rain_mm_per_h))
    }

    /// [`Sight::vapor`] from four moments of the hour, together with those that follow, where they
    /// are smooth and begin before `until`; see [`smooth_hours`]. The first at `at`, the others an
    /// hour and two later.
    pub(super) fn smooth_vapor(
        &mut self,
        at: Second,
        until: Second,
    ) -> Option<[Option<SmoothHour>; HOURS]> {
        if !self.is_smooth(at) {
            return None;
        }
        let mut later = [at, at.plus(3600), at.plus(7200)];
        for moment in &mut later {
            if *moment >= until || !self.is_smooth(*moment) {
                *moment = at;
            }
            self.sun(*moment)?;
        }
        let [one, two, three] = later.map(|moment| self.straight_at_hand(moment));
        let mut hours = smooth_hours([one?, two?, three?], at.into_hour());
        for (hour, moment) in hours.iter_mut().zip(later).skip(1) {
            *hour = hour.filter(|_| moment > at);
        }
        Some(hours)
    }

    fn is_smooth(&self, at: Second) -> bool {
        let (nodes, screen) = (self.nodes, &self.screen);
        at.hour().is_some_and(|hour| {
            screen.sun_stays(hour)
                && nodes.is_whole(hour)
                && is_smooth(&nodes.node(hour), &nodes.node(hour + 1))
        })
    }

    /// The rain of the hour that `at` lies in, mm/h, as far as a film is defined for it.
    pub(super) fn rain(&self, at: Second) -> Option<f64> {
        let brings = self.nodes.brings(at.hour()?);
        let rain_mm_per_h = Some(brings.rain_mm_per_h).filter(|_| brings.rain_known);
        rain_mm_per_h.filter(|rain| (0.0..=500.0).contains(rain))
    }

    /// The dry sheet of some minutes from `at` on; `None` as for [`Sight::vapor`].
    pub(super) fn sheets(&mut self, at: Second) -> Option<[Temperature; MINUTES_AT_ONCE]> {
        match self.straight(at) {
            Some(straight) => straight.sheets_from(at.into_hour()),
            None => self.hour(at).nominal_sheets(at.into_hour()),
        }
    }

    /// What bears on a dry sheet in twenty minutes from `at` on; `None` as for [`Sight::vapor`].
    pub(super) fn minutes(&mut self, at: Second) -> Option<DryMinutes> {
        self.straight(at)?.minutes_from(at.into_hour())
    }

    /// What the thirds of the hour that `at` lies in may bring.
    pub(super) fn thirds(&mut self, at: Second) -> Option<Thirds> {
        let start = at.hour_start();
        let slot = at.hour()? % HOURS_KEPT;
        if let Some((of, thirds)) = &self.thirds[slot]
            && *of == start
        {
            return *thirds;
        }
        let has_sun = self.sun(at).is_some();
        let thirds = self.whole_hour(at).filter(|_| has_sun).map(Thirds::of);
        self.thirds[slot] = Some((start, thirds));
        thirds
    }

    /// The hour that `at` lies in, where everything runs straight through it.
    fn straight(&mut self, at: Second) -> Option<StraightHour<'_>> {
        self.sun(at)?;
        self.straight_at_hand(at)
    }

    /// [`Sight::straight`] of an hour whose sun has been asked for.
    fn straight_at_hand(&self, at: Second) -> Option<StraightHour<'_>> {
        self.whole_hour(at).map(|hour| StraightHour::of(&hour))
    }

    /// The hour that `at` lies in, where everything is told and its sun has been asked for.
    fn whole_hour(&self, at: Second) -> Option<WholeHour<'_>> {
        let (nodes, optics, height) = (self.nodes, self.roof.optics()?, self.roof.height());
        let hour = at.hour().filter(|hour| nodes.is_whole(*hour))?;
        let (begins, ends) = (nodes.node(hour), nodes.node(hour + 1));
        let (of, sun) = self.suns[hour % HOURS_KEPT].as_ref()?;
        let sun = sun.as_ref().filter(|_| *of == at.hour_start())?;
        Some(WholeHour { begins, ends, height, sun, told: nodes.told_radiation(hour), optics })
    }

    /// The hour that `at` lies in.
    pub(super) fn hour(&mut self, at: Second) -> &RoofHour<'a> {
        let start = at.hour_start();
        let slot = at.hour().unwrap_or(0) % HOURS_KEPT;
        self.hours[slot].take_if(|(of, _)| *of != start);
        let sun = if self.hours[slot].is_none() { self.sun(at).cloned() } else { None };
        let (roof, start_s) = (self.roof, self.first_s + start.0);
        &self.hours[slot].get_or_insert_with(|| (start, roof.hour_under(start_s, sun))).1
    }

    /// The sun of the hour that `at` lies in.
    fn sun(&mut self, at: Second) -> Option<&SunHour> {
        let start = at.hour_start();
        let held = &mut self.suns[at.hour().unwrap_or(0) % HOURS_KEPT];
        held.take_if(|(of, _)| *of != start);
        let (roof, start_s) = (self.roof, self.first_s + start.0);
        let turned = at.hour().and_then(|hour| self.screen.turned(hour));
        held.get_or_insert_with(|| {
            let sun = match turned {
                Some(turned) => roof.sun_hour_turned(start_s, turned),
                None => roof.sun_hour(start_s),
            };
            (start, sun)
        })
        .1
        .as_ref()
    }

    /// What is sure of the surroundings from `from` to `to`, both in one hour or at its end.
    pub(super) fn surely(&mut self, from: Second, to: Second) -> Surely<'_> {
        let Some(stretch) = Stretch::of(from, to) else { return Surely::Doubt };
        let (nodes, roofing) = (self.nodes, self.roofing);
        let into_hour_ms = |at: Second| 1000 * (at.0 - from.hour_start().0);
        let sun = self.sun(from).map(|sun| SunBetween {
            from: sun.sun_after(into_hour_ms(from)),
            to: sun.sun_after(into_hour_ms(to)),
            hour: sun,
        });
        Bounds::of(nodes, &roofing, stretch, sun)
    }

    /// Air at one moment.
    pub(super) fn air(&mut self, at: Second) -> Option<Temperature> {
        let line = at.hour().and_then(|hour| self.nodes.air_line(hour));
        match line {
            Some(line) => line.at(at.into_hour()).map(Temperature::from_celsius),
            None => self.hour(at).air(at.into_hour()),
        }
    }

    /// Looks over every hour from that of the one to that of the other.
    pub(super) fn look(&mut self, hours: [Second; 2]) {
        self.screen.look(self.roof, self.nodes, self.first_s, hours);
    }

    /// Whether a dry sheet is known already to stay dry through this hour.
    pub(super) fn surely_dry(&self, hour: Second) -> bool {
        hour.hour().is_some_and(|hour| self.screen.stays_dry(hour))
    }
}
