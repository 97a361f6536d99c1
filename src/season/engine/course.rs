//! Air and sheet of one shift, worked out only where the walk has to look.

use chrono::{DateTime, Utc};

use super::bounds::{Bounds, Roofing, Stretch, SunBetween, Surely};
use super::clock::Second;
use super::nearness::Nearness;
use super::nodes::Nodes;
use super::screen::Screen;
use super::smooth::{HOURS, SmoothHour, is_smooth, smooth_hours};
use super::thirds::{Thirds, WholeHour};
use crate::physics::radiation::SunHour;
use crate::plan::{
    Course, DryMinutes, HOUR_STEPS, LastTest, Limits, MINUTES_AT_ONCE, Roof, RoofHour, StraightHour,
};
use crate::units::Temperature;
use crate::weather::Forecast;

/// Room for the rounding of a screen against the plan's own numbers, in kelvin.
const ROUNDING_K: f64 = 1e-4;
/// More than a day's run of water is long.
const HOURS_KEPT: usize = 32;
/// Minutes that a screen looks at together: an hour's rest, a third, the least.
const THIRD_S: i64 = 1200;
const CHUNKS: [i64; 3] = [60, 15, 5];

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
    fn sheets(&mut self, at: Second) -> Option<[Temperature; MINUTES_AT_ONCE]> {
        match self.straight(at) {
            Some(straight) => straight.sheets_from(at.into_hour()),
            None => self.hour(at).nominal_sheets(at.into_hour()),
        }
    }

    /// What bears on a dry sheet in twenty minutes from `at` on; `None` as for [`Sight::vapor`].
    fn minutes(&mut self, at: Second) -> Option<DryMinutes> {
        self.straight(at)?.minutes_from(at.into_hour())
    }

    /// What the thirds of the hour that `at` lies in may bring.
    fn thirds(&mut self, at: Second) -> Option<Thirds> {
        let start = at.hour_start();
        let slot = at.hour()? % HOURS_KEPT;
        if let Some((of, thirds)) = &self.thirds[slot]
            && *of == start
        {
            return *thirds;
        }
        let thirds = self.whole_hour(at).map(Thirds::of);
        self.thirds[slot] = Some((start, thirds));
        thirds
    }

    fn whole_hour(&mut self, at: Second) -> Option<WholeHour<'_>> {
        let (nodes, optics, height) = (self.nodes, self.roof.optics()?, self.roof.height());
        let hour = at.hour().filter(|hour| nodes.is_whole(*hour))?;
        let (begins, ends) = (nodes.node(hour), nodes.node(hour + 1));
        let told = nodes.told_radiation(hour);
        Some(WholeHour { begins, ends, height, sun: self.sun(at)?, told, optics })
    }

    /// The hour that `at` lies in, where everything runs straight through it.
    fn straight(&mut self, at: Second) -> Option<StraightHour<'_>> {
        self.sun(at)?;
        self.straight_at_hand(at)
    }

    /// [`Sight::straight`] of an hour whose sun has been asked for.
    fn straight_at_hand(&self, at: Second) -> Option<StraightHour<'_>> {
        let (nodes, optics, height) = (self.nodes, self.roof.optics()?, self.roof.height());
        let hour = at.hour().filter(|hour| nodes.is_whole(*hour))?;
        let (begins, ends) = (nodes.node(hour), nodes.node(hour + 1));
        let (of, sun) = self.suns[hour % HOURS_KEPT].as_ref()?;
        let sun = sun.as_ref().filter(|_| *of == at.hour_start())?;
        let told = nodes.told_radiation(hour);
        StraightHour::between(&begins, &ends, &height, sun, told, optics)
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

/// One shift of it.
pub(super) struct ShiftCourse<'s, 'a> {
    sight: &'s mut Sight<'a>,
    start: Second,
    /// Up to here a screen has failed already.
    loud_until: usize,
    /// The sheets worked out last, and when the first of them is.
    sheets: Option<(Second, [Temperature; MINUTES_AT_ONCE])>,
    /// Minutes that are in doubt after a test: that test's, the first that was looked at, the one
    /// after the last, and a bit for each that may ask for a test.
    doubts: Option<Doubts>,
}

/// Minutes that follow each other, of which some may ask for a test.
#[derive(Clone, Copy)]
struct Doubts {
    /// The minute of the test that they are held against.
    after: usize,
    minutes: (usize, usize),
    /// One bit for each.
    in_doubt: u32,
}

impl Doubts {
    /// The first minute from `minute` on that is in doubt or was not looked at.
    fn next(&self, minute: usize) -> usize {
        let (first, end) = self.minutes;
        (minute..end).find(|at| self.in_doubt >> (at - first) & 1 == 1).unwrap_or(end)
    }
}

impl<'s, 'a> ShiftCourse<'s, 'a> {
    pub(super) const fn new(sight: &'s mut Sight<'a>, start: Second) -> Self {
        Self { sight, start, loud_until: 0, sheets: None, doubts: None }
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

impl ShiftCourse<'_, '_> {
    /// [`Course::quiet_until`] by thirds of an hour, and by minutes where a third is in doubt;
    /// `None` for an hour of which not everything is told.
    fn quiet_minutes(
        &mut self,
        minute: usize,
        last: &LastTest,
        limits: &Limits<'_>,
    ) -> Option<usize> {
        if let Some(doubts) = self.doubts
            && doubts.after == last.minute
            && doubts.minutes.0 <= minute
            && minute < doubts.minutes.1
        {
            return Some(doubts.next(minute));
        }
        let at = self.start.plus_minutes(minute);
        let thirds = self.sight.thirds(at)?;
        let optics = self.sight.roof.optics()?;
        let near = Nearness::to(last, limits, Some(optics.thermal_emittance()))?;
        let third_of = |second: i64| usize::try_from(second / THIRD_S).unwrap_or(0);
        let third = third_of(at.into_hour());
        let quiet = (third..3).take_while(|third| thirds.stay(*third, &near)).count();
        let end = minute + minutes_to_third(at, quiet.max(1));
        if quiet > 0 {
            return Some(end);
        }
        let minutes = self.sight.minutes(at)?;
        let is_in_doubt = |minute: usize| u32::from(!near.is_minute(&minutes, minute)) << minute;
        let doubts = Doubts {
            after: last.minute,
            minutes: (minute, end),
            in_doubt: (0..end - minute).map(is_in_doubt).fold(0, |all, bit| all | bit),
        };
        self.doubts = Some(doubts);
        Some(doubts.next(minute))
    }

    /// The sheet at `at`, where it was worked out with that of a minute before.
    fn sheet_at_hand(&self, at: Second) -> Option<Temperature> {
        let (first, sheets) = self.sheets.as_ref()?;
        let since_first = usize::try_from(at.0 - first.0).ok()?;
        let same_hour = at.hour_start() == first.hour_start() && since_first % 60 == 0;
        sheets.get(since_first / 60).copied().filter(|_| same_hour)
    }
}

/// Minutes from `at` on that begin before the end of its third of an hour, and of so many in all.
fn minutes_to_third(at: Second, thirds: usize) -> usize {
    let into_third = at.into_hour() % THIRD_S;
    let ahead = THIRD_S * i64::try_from(thirds).unwrap_or(1) - into_third;
    usize::try_from((ahead + 59) / 60).unwrap_or(1)
}

impl Course for ShiftCourse<'_, '_> {
    fn air(&mut self, minute: usize) -> Temperature {
        // A shift is walked only where every minute has its air.
        let nowhere = Temperature::from_celsius(f64::NAN);
        self.sight.air(self.start.plus_minutes(minute)).unwrap_or(nowhere)
    }

    fn sheet(&mut self, minute: usize) -> Option<Temperature> {
        let at = self.start.plus_minutes(minute);
        if let Some(sheet) = self.sheet_at_hand(at) {
            return Some(sheet);
        }
        self.sheets = self.sight.sheets(at).map(|sheets| (at, sheets));
        self.sheet_at_hand(at).or_else(|| self.sight.hour(at).nominal_sheet(at.into_hour()))
    }

    fn quiet_until(&mut self, minute: usize, last: &LastTest, limits: &Limits<'_>) -> usize {
        let from = self.start.plus_minutes(minute);
        if let Some(until) = self.quiet_minutes(minute, last, limits) {
            return until;
        }
        // Zones of a century ago have minutes that do not end with the hour.
        if minute < self.loud_until || from.into_hour() % 60 != 0 {
            return minute;
        }
        let into_hour = from.into_hour() / 60;
        for chunk in CHUNKS {
            // To the end of the hour, of its third, of its five minutes.
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
