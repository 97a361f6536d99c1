//! Air and sheet of one shift, worked out only where the walk has to look.

use super::bounds::{Stretch, Surely};
use super::clock::Second;
use super::nearness::Nearness;
use super::sight::Sight;
use crate::plan::{Course, LastTest, Limits, MINUTES_AT_ONCE};
use crate::units::Temperature;

const THIRD_S: i64 = 1200;
/// Minutes that are looked at together where an hour is not told in full: its rest, a quarter, the
/// least.
const CHUNKS: [i64; 3] = [60, 15, 5];

/// One shift of it.
pub(super) struct ShiftCourse<'s, 'a> {
    sight: &'s mut Sight<'a>,
    start: Second,
    /// Up to here a screen has failed already.
    loud_until: usize,
    /// The sheets worked out last, and when the first of them is.
    sheets: Option<(Second, [Temperature; MINUTES_AT_ONCE])>,
    /// The minutes that were looked at last, one by one.
    doubts: Option<Doubts>,
}

/// Minutes that follow each other, of which some may ask for a test.
#[derive(Clone, Copy)]
struct Doubts {
    /// The minute of the test that they are held against.
    after: usize,
    /// The first and the one after the last.
    minutes: (usize, usize),
    /// One bit for each that may ask for a test.
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

    /// Whether air and sheet surely ask for no test in `[from, to]`.
    fn is_quiet(&mut self, from: Second, to: Second, near: &Nearness) -> bool {
        let Some(stretch) = Stretch::of(from, to) else { return false };
        let air = self.sight.nodes.air_between(stretch);
        if !air.is_some_and(|(low, high)| near.is_air(low) && near.is_air(high)) {
            return false;
        }
        let Some(sheet) = near.sheet else { return true };
        match self.sight.surely(from, to) {
            Surely::Between(bounds) => {
                let [low, high] = sheet.celsius.map(Temperature::from_celsius);
                bounds.warmer(low) && bounds.colder(high)
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
    fn quiet_minutes(&mut self, minute: usize, last: &LastTest, near: &Nearness) -> Option<usize> {
        if let Some(doubts) = self.doubts
            && doubts.after == last.minute
            && doubts.minutes.0 <= minute
            && minute < doubts.minutes.1
        {
            return Some(doubts.next(minute));
        }
        let at = self.start.plus_minutes(minute);
        let thirds = self.sight.thirds(at)?;
        let third_of = |second: i64| usize::try_from(second / THIRD_S).unwrap_or(0);
        let third = third_of(at.into_hour());
        let quiet = (third..3).take_while(|third| thirds.stay(*third, near)).count();
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
        let emittance = self.sight.roof.optics().map(|optics| optics.thermal_emittance());
        let Some(near) = Nearness::to(last, limits, emittance) else { return minute };
        if let Some(until) = self.quiet_minutes(minute, last, &near) {
            return until;
        }
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
            if self.is_quiet(from, from.plus(60 * ahead), &near) {
                return past;
            }
            self.loud_until = past;
        }
        minute
    }
}
