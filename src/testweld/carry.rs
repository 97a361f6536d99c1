//! What carries over from an earlier trial to the next one.

use chrono::{DateTime, NaiveDate, Utc};

use super::book::PassedOver;
use super::calibration::AmbientPair;
use super::estimate::Estimate;
use super::learning::Conditions;
use crate::site::{Kind, Welder};
use crate::units::{Temperature, TravelSpeed};

/// A heat window found at an earlier trial, as far as the next trial needs it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EarlierWindow {
    /// The heat the machine was set to: the middle of the window.
    pub center: Temperature,
    /// The speed held in that trial; `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
    /// Sheet temperature at that trial, where it was measured or can be told.
    pub sheet: Option<Temperature>,
    /// Where it comes from.
    pub origin: Origin,
}

/// Where an earlier window comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Given on the command line.
    ByHand,
    /// A trial in the test-weld book, by its day.
    Book {
        /// The local day of the trial.
        day: NaiveDate,
    },
}

/// What the next trial may start from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Carry {
    /// A bracket around this window's center.
    Bracket(EarlierWindow),
    /// The machine's full range, and why.
    FullRange(WhyFullRange),
}

/// Why there is no earlier window to start from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyFullRange {
    /// Nothing for this welder and sheet within the rule's days.
    NoRecord {
        /// The rule's days.
        carry_days: u32,
    },
    /// The center lies outside this welder's heats.
    CenterOutsideHeats,
    /// The test-weld book is there and cannot be read.
    BookUnreadable,
    /// The newest trial on this welder is older than the rule's days.
    TooOld {
        /// Its local day.
        day: NaiveDate,
        /// The rule's days.
        carry_days: u32,
    },
    /// The newest trial on this welder was made on another polymer or thickness.
    OtherSheet {
        /// Its local day.
        day: NaiveDate,
    },
    /// The newest trial on this welder proved nothing.
    NotConclusive {
        /// Its local day.
        day: NaiveDate,
    },
    /// The newest trial on this welder ended in `do not weld`.
    DoNotWeld {
        /// Its local day.
        day: NaiveDate,
    },
}

/// Something that knows what worked before: the book, or a center given by hand.
///
/// Every answer is about the time before `at`, so that a plan never learns from its own future.
pub trait EarlierWindows {
    /// What a trial of `welder` at `at` may start from.
    fn carry(&self, welder: &Welder, at: DateTime<Utc>) -> Carry;

    /// Trials newer than the one carried over and why each is not used, newest first; all of them
    /// where none is carried over.
    fn passed_over(&self, _welder: &Welder, _at: DateTime<Utc>) -> Vec<PassedOver> {
        Vec::new()
    }

    /// The middle that the record of `welder` before `at` expects under `asked`; `None` until such
    /// an estimate has earned to be offered.
    fn estimate(
        &self,
        _welder: &Welder,
        _at: DateTime<Utc>,
        _asked: &Conditions,
    ) -> Option<Estimate> {
        None
    }

    /// Ambient as forecast and as read at the trials before `at`, in any order.
    fn ambient_pairs(&self, _at: DateTime<Utc>) -> Vec<AmbientPair> {
        Vec::new()
    }
}

/// No record at all.
#[derive(Debug, Clone, Copy)]
pub struct NoRecords {
    /// The rule's days, for the reason given.
    pub carry_days: u32,
}

impl EarlierWindows for NoRecords {
    fn carry(&self, _: &Welder, _: DateTime<Utc>) -> Carry {
        Carry::FullRange(WhyFullRange::NoRecord { carry_days: self.carry_days })
    }
}

/// A book that is there and cannot be read.
#[derive(Debug, Clone, Copy)]
pub struct UnreadableBook;

impl EarlierWindows for UnreadableBook {
    fn carry(&self, _: &Welder, _: DateTime<Utc>) -> Carry {
        Carry::FullRange(WhyFullRange::BookUnreadable)
    }
}

/// A center that somebody gives by hand.
#[derive(Debug, Clone, PartialEq)]
pub struct ByHand {
    /// The center.
    pub center: Temperature,
    /// The speed at which it was found.
    pub speed: Option<TravelSpeed>,
    /// Sheet temperature at that trial.
    pub sheet: Option<Temperature>,
    /// The one welder it is for; `None` for every automatic welder, or for the hand welders of a
    /// site that has no automatic.
    pub welder: Option<String>,
    /// Whether the site has an automatic welder.
    pub site_has_automatic: bool,
    /// The rule's days, for the reason given where it does not apply.
    pub carry_days: u32,
}

impl ByHand {
    /// Whether the center is meant for `welder`.
    pub fn is_for(&self, welder: &Welder) -> bool {
        match &self.welder {
            Some(name) => *name == welder.name,
            None => welder.kind == Kind::Automatic || !self.site_has_automatic,
        }
    }
}

/// A center given by hand, before a book that still tells what was learned and read.
pub struct ByHandBeside<'a> {
    /// Where the next trial starts from.
    pub by_hand: ByHand,
    /// All else.
    pub book: &'a dyn EarlierWindows,
}

impl EarlierWindows for ByHandBeside<'_> {
    fn carry(&self, welder: &Welder, at: DateTime<Utc>) -> Carry {
        self.by_hand.carry(welder, at)
    }

    fn estimate(&self, welder: &Welder, at: DateTime<Utc>, asked: &Conditions) -> Option<Estimate> {
        self.book.estimate(welder, at, asked)
    }

    fn ambient_pairs(&self, at: DateTime<Utc>) -> Vec<AmbientPair> {
        self.book.ambient_pairs(at)
    }
}

impl EarlierWindows for ByHand {
    fn carry(&self, welder: &Welder, _: DateTime<Utc>) -> Carry {
        if !self.is_for(welder) {
            let carry_days = self.carry_days;
            return Carry::FullRange(WhyFullRange::NoRecord { carry_days });
        }
        if self.center.is_below(welder.heat_low) || self.center.is_above(welder.heat_max) {
            return Carry::FullRange(WhyFullRange::CenterOutsideHeats);
        }
        let speed = match welder.kind {
            Kind::Automatic => self.speed,
            Kind::Hand => None,
        };
        let (center, sheet) = (self.center, self.sheet);
        Carry::Bracket(EarlierWindow { center, speed, sheet, origin: Origin::ByHand })
    }
}
