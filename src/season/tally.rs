//! What many days come to: one row of the outlook on past years.

use super::day::{Hold, SeasonDay, Workday};
use super::percentile::Spread;

/// Many workdays of one roof counted together. Days without weather are counted and left out of
/// everything else.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tally {
    /// Workdays, whether the record covers them or not.
    pub workdays: u32,
    /// Workdays that the record covers.
    pub covered: u32,
    /// Covered days judged without rain, wind or the water on the sheet in some hour.
    pub partly_known: u32,
    /// Test welds of a day.
    pub tests: Option<Spread<u32>>,
    /// All test welds.
    pub tests_in_all: u32,
    /// Covered days by their number of tests: none, one, two, three, four and more.
    pub days_with: [u32; 5],
    /// Weldable minutes of a day.
    pub weldable: Option<Spread<u32>>,
    /// All weldable minutes.
    pub weldable_in_all: u32,
    /// All working minutes.
    pub working_in_all: u32,
    /// All minutes lost, by what held them, in the order of [`Hold::ALL`].
    pub held_in_all: [u32; Hold::ALL.len()],
    /// Mornings on a sheet that is wet from the night.
    pub dew: DewStarts,
    /// Earliest and latest first weldable minute of a day, counted from the start of the shift.
    pub first_weldable: Option<(u16, u16)>,
    /// Covered days without a weldable minute.
    pub never_weldable: u32,
}

/// Days that begin on a sheet wet from the night, without rain or snow falling.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct DewStarts {
    /// How many.
    pub days: u32,
    /// How many of them never dry out within the shift, or are held by something else to its end.
    pub all_day: u32,
    /// Minutes from the start of the shift to the first weldable one, of the others.
    pub delay: Option<Spread<u32>>,
}

impl Tally {
    /// Counts days, in any order.
    pub fn of<'a>(days: impl IntoIterator<Item = &'a SeasonDay>) -> Self {
        let mut tally = Self::default();
        let (mut tests, mut weldable, mut delays) = (Vec::new(), Vec::new(), Vec::new());
        for day in days {
            tally.workdays += 1;
            let Some(work) = &day.workday else { continue };
            tests.push(work.tests.total());
            weldable.push(u32::from(work.weldable_minutes));
            if work.begins_wet
                && let Some(first) = work.first_weldable
            {
                delays.push(u32::from(first));
            }
            tally.add(work);
        }
        tally.tests = Spread::of(tests);
        tally.weldable = Spread::of(weldable);
        tally.dew.delay = Spread::of(delays);
        tally
    }

    fn add(&mut self, work: &Workday) {
        self.covered += 1;
        self.partly_known += u32::from(work.partly_known);
        let tests = work.tests.total();
        self.tests_in_all += tests;
        let most = self.days_with.len() - 1;
        self.days_with[usize::try_from(tests).unwrap_or(most).min(most)] += 1;
        self.weldable_in_all += u32::from(work.weldable_minutes);
        self.working_in_all += u32::from(work.working_minutes);
        for (sum, hold) in self.held_in_all.iter_mut().zip(Hold::ALL) {
            *sum += u32::from(work.held.of(hold));
        }
        self.dew.days += u32::from(work.begins_wet);
        self.dew.all_day += u32::from(work.begins_wet && work.first_weldable.is_none());
        self.never_weldable += u32::from(work.first_weldable.is_none());
        if let Some(first) = work.first_weldable {
            let (earliest, latest) = self.first_weldable.unwrap_or((first, first));
            self.first_weldable = Some((earliest.min(first), latest.max(first)));
        }
    }

    /// Whether a workday is without weather.
    pub const fn has_gaps(&self) -> bool {
        self.covered < self.workdays
    }

    /// Days that begin wet with dew or frost; `None` where there is none and of not one day the
    /// water on the sheet is known, as without cloud and radiation: none seen is not none there.
    pub const fn dew_days(&self) -> Option<u32> {
        let nothing_known = self.dew.days == 0 && self.partly_known == self.covered;
        if nothing_known { None } else { Some(self.dew.days) }
    }

    /// `count` of the covered days in a hundred; `None` where none is covered.
    pub fn percent(&self, count: u32) -> Option<f64> {
        (self.covered > 0).then(|| 100.0 * f64::from(count) / f64::from(self.covered))
    }
}
