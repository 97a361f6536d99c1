//! The crew's judged trials as a source of earlier windows.

use std::cmp::Ordering;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::carry::{Carry, EarlierWindow, EarlierWindows, Origin, WhyFullRange};
use super::estimate::{Estimate, estimate};
use super::judge::JudgedTrial;
use super::learning::{Conditions, observations};
use super::window::{RunSetting, WhyNot};
use crate::site::{Kind, Polymer, Welder};
use crate::units::{CONVERSION_NOISE, Temperature, Thickness};

/// Judged trials, in any order, seen from one site. A corrected trial is there once, as corrected.
#[derive(Debug, Clone, Copy)]
pub struct Book<'a> {
    /// In any order.
    pub trials: &'a [JudgedTrial],
    /// Of the site's sheet.
    pub polymer: Polymer,
    /// Of the site's sheet.
    pub thickness: Thickness,
    /// The rule's days, counted on the calendar.
    pub carry_days: u32,
    /// In which a day begins and ends.
    pub time_zone: Tz,
}

/// A trial newer than the one that is used, and why it is not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PassedOver {
    /// When it was made.
    pub when: DateTime<Utc>,
    /// The local day of that.
    pub day: NaiveDate,
    /// Its setting, where it had one.
    pub center: Option<Temperature>,
    /// Why it is not used.
    pub because: WhyPassedOver,
}

/// Why a trial is no starting point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyPassedOver {
    /// Made on another welder.
    OtherWelder,
    /// Made on another polymer or thickness.
    OtherSheet,
    /// It proved nothing.
    NotConclusive,
    /// It ended in `do not weld`: no heat was good, or its heats contradict each other.
    DoNotWeld(WhyNot),
    /// Older than the rule's days.
    TooOld {
        /// Calendar days.
        days: i64,
    },
    /// Its center lies outside the welder's heats.
    CenterOutsideHeats,
}

impl WhyPassedOver {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::OtherWelder => "other-welder",
            Self::OtherSheet => "other-sheet",
            Self::NotConclusive => "not-conclusive",
            Self::DoNotWeld(_) => "do-not-weld",
            Self::TooOld { .. } => "too-old",
            Self::CenterOutsideHeats => "center-outside-heats",
        }
    }
}

/// What the book has for one trial to come.
#[derive(Debug, Clone, PartialEq)]
pub struct LookedUp {
    /// Where to start.
    pub carry: Carry,
    /// Newer trials that are not used, newest first; all of them where none is used.
    pub passed_over: Vec<PassedOver>,
}

impl Book<'_> {
    /// The newest usable window of `welder` strictly before `at`, and what was passed over.
    ///
    /// Newest first also within the day of `at`: a checkpoint starts from that day's own latest
    /// window. Of two trials at the same instant the one with the cooler center counts as newer.
    pub fn look_up(&self, welder: &Welder, at: DateTime<Utc>) -> LookedUp {
        let mut earlier: Vec<&JudgedTrial> =
            self.trials.iter().filter(|judged| judged.trial.when < at).collect();
        earlier.sort_by(|one, other| newest_first(one, other));
        let mut passed_over: Vec<PassedOver> = Vec::new();
        let mut full_range = WhyFullRange::NoRecord { carry_days: self.carry_days };
        for judged in earlier {
            match self.usable(judged, welder, at) {
                Ok(window) => return LookedUp { carry: Carry::Bracket(window), passed_over },
                Err(because) => {
                    let entry = self.entry(judged, because);
                    if full_range == (WhyFullRange::NoRecord { carry_days: self.carry_days }) {
                        full_range = self.why_full_range(&entry).unwrap_or(full_range);
                    }
                    passed_over.push(entry);
                }
            }
        }
        LookedUp { carry: Carry::FullRange(full_range), passed_over }
    }

    /// The reason that the plan gives: that of the newest trial on this welder.
    fn why_full_range(&self, entry: &PassedOver) -> Option<WhyFullRange> {
        let (day, carry_days) = (entry.day, self.carry_days);
        match entry.because {
            WhyPassedOver::OtherWelder => None,
            WhyPassedOver::OtherSheet => Some(WhyFullRange::OtherSheet { day }),
            WhyPassedOver::NotConclusive => Some(WhyFullRange::NotConclusive { day }),
            WhyPassedOver::DoNotWeld(_) => Some(WhyFullRange::DoNotWeld { day }),
            WhyPassedOver::TooOld { .. } => Some(WhyFullRange::TooOld { day, carry_days }),
            WhyPassedOver::CenterOutsideHeats => Some(WhyFullRange::CenterOutsideHeats),
        }
    }

    fn usable(
        &self,
        judged: &JudgedTrial,
        welder: &Welder,
        at: DateTime<Utc>,
    ) -> Result<EarlierWindow, WhyPassedOver> {
        let trial = &judged.trial;
        if trial.welder != welder.name || trial.welder_kind != welder.kind {
            return Err(WhyPassedOver::OtherWelder);
        }
        let off = (trial.thickness.millimeters() - self.thickness.millimeters()).abs();
        // Asked this way round, a thickness that is not a number is another sheet.
        let same_thickness = off <= CONVERSION_NOISE;
        if trial.polymer != self.polymer || !same_thickness {
            return Err(WhyPassedOver::OtherSheet);
        }
        let days = (self.day(at) - self.day(trial.when)).num_days();
        if days > i64::from(self.carry_days) {
            return Err(WhyPassedOver::TooOld { days });
        }
        let (center, speed) = match judged.reading.setting {
            RunSetting::RunAt { heat, speed } => (heat, speed),
            RunSetting::DoNotWeld(WhyNot::NotConclusive) => {
                return Err(WhyPassedOver::NotConclusive);
            }
            RunSetting::DoNotWeld(why) => return Err(WhyPassedOver::DoNotWeld(why)),
        };
        if center.is_below(welder.heat_low) || center.is_above(welder.heat_max) {
            return Err(WhyPassedOver::CenterOutsideHeats);
        }
        let speed = speed.filter(|_| welder.kind == Kind::Automatic);
        Ok(EarlierWindow {
            center,
            speed,
            sheet: trial.sheet,
            origin: Origin::Book { day: self.day(trial.when) },
        })
    }

    fn entry(&self, judged: &JudgedTrial, because: WhyPassedOver) -> PassedOver {
        let when = judged.trial.when;
        PassedOver { when, day: self.day(when), center: center(judged), because }
    }

    fn day(&self, at: DateTime<Utc>) -> NaiveDate {
        at.with_timezone(&self.time_zone).date_naive()
    }
}

impl EarlierWindows for Book<'_> {
    fn carry(&self, welder: &Welder, at: DateTime<Utc>) -> Carry {
        self.look_up(welder, at).carry
    }

    fn passed_over(&self, welder: &Welder, at: DateTime<Utc>) -> Vec<PassedOver> {
        self.look_up(welder, at).passed_over
    }

    fn estimate(&self, welder: &Welder, at: DateTime<Utc>, asked: &Conditions) -> Option<Estimate> {
        let earlier = self.trials.iter().filter(|judged| judged.trial.when < at);
        let record = observations(earlier, welder, self.polymer, self.thickness);
        estimate(&record, welder, asked)
    }
}

const fn center(judged: &JudgedTrial) -> Option<Temperature> {
    match judged.reading.setting {
        RunSetting::RunAt { heat, .. } => Some(heat),
        RunSetting::DoNotWeld(_) => None,
    }
}

/// A total order on what decides, so that the order in which trials are handed over does not. At
/// one instant a trial without a setting comes first, so that it is named.
fn newest_first(one: &JudgedTrial, other: &JudgedTrial) -> Ordering {
    let degrees = |judged| center(judged).map_or(f64::NEG_INFINITY, Temperature::celsius);
    let speed = |judged: &JudgedTrial| {
        judged.trial.speed_held().map_or(0.0, |speed| speed.feet_per_minute())
    };
    other
        .trial
        .when
        .cmp(&one.trial.when)
        .then_with(|| degrees(one).total_cmp(&degrees(other)))
        .then_with(|| speed(one).total_cmp(&speed(other)))
        .then_with(|| one.trial.who.cmp(&other.trial.who))
}
