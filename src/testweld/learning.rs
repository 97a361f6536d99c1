//! What a crew's own record says about the middle of the window under other conditions.
//!
//! Beside the rules and never instead of them: an estimate is offered only where it has done
//! better than carrying the last center over, on that crew's own record of one welder and sheet.

use chrono::{DateTime, Utc};

use super::judge::JudgedTrial;
use super::regression::{Belief, Three};
use super::window::RunSetting;
use crate::site::{Polymer, Welder};
use crate::units::{CONVERSION_NOISE, Temperature, TemperatureDifference, Thickness, TravelSpeed};

/// An estimate is offered from this many trials on.
pub const TRIALS_TO_EARN: usize = 6;

/// How large its errors may be against those of carry-over: a lead of a few trials that is smaller
/// than a tenth is luck as often as not.
const MUST_BE_WITHIN: f64 = 0.9;

/// Older trials than the newest so many are left out: machines and nozzles age.
pub const MOST_TRIALS: usize = 200;

/// One closed window and the conditions under which it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    /// When.
    pub when: DateTime<Utc>,
    /// Under which conditions.
    pub conditions: Conditions,
    /// Half way between bottom and top.
    pub center: Temperature,
}

/// What the middle of the window depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Air in the shade.
    pub ambient: Temperature,
    /// The sheet's own surface, where it is known.
    pub sheet: Option<Temperature>,
    /// `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
}

/// Which temperature the estimate goes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The sheet's own surface; trials without it are left out.
    Sheet,
    /// Air in the shade, on every trial.
    Ambient,
}

/// The middle of the window to expect.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expectation {
    /// The middle.
    pub middle: Temperature,
    /// Nine in ten lie no further from it than this.
    pub band: TemperatureDifference,
}

/// How one trial would have been foreseen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOut {
    /// Which trial.
    pub when: DateTime<Utc>,
    /// What was found.
    pub found: Temperature,
    /// By the estimate from all other trials.
    pub from_the_others: Temperature,
    /// By the estimate from the trials before it alone.
    pub from_the_past: Temperature,
    /// By the trial before it.
    pub carried_over: Temperature,
}

/// Mean sizes of the errors, over the same trials.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanErrors {
    /// Of the estimate from all other trials.
    pub from_the_others: TemperatureDifference,
    /// Of the estimate from the trials before alone.
    pub from_the_past: TemperatureDifference,
    /// Of plain carry-over.
    pub carried_over: TemperatureDifference,
}

/// Whether an estimate is offered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing {
    /// Its errors are smaller than those of carry-over by a tenth or more, both ways.
    Earned(MeanErrors),
    /// The record is too short to say.
    TooFewTrials {
        /// Trials there are.
        have: usize,
        /// Trials it takes.
        need: usize,
    },
    /// Carry-over has done better, or nearly as well.
    CarryOverIsBetter(MeanErrors),
}

/// What was learned from one welder's trials on one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    basis: Basis,
    trials: usize,
    belief: Belief,
    left_out: Vec<LeftOut>,
    standing: Standing,
}

impl Basis {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Ambient => "ambient",
        }
    }

    /// Sheet temperature where enough trials have it and it is known now; else ambient. The two
    /// are never mixed: a sheet in the sun is far from ambient.
    pub fn for_record(record: &[Observation], asked: &Conditions) -> Self {
        let with_sheet = record.iter().filter(|seen| seen.conditions.sheet.is_some()).count();
        if asked.sheet.is_some() && with_sheet >= TRIALS_TO_EARN {
            Self::Sheet
        } else {
            Self::Ambient
        }
    }

    pub(super) const fn temperature(self, conditions: &Conditions) -> Option<Temperature> {
        match self {
            Self::Sheet => conditions.sheet,
            Self::Ambient => Some(conditions.ambient),
        }
    }

    /// 1, how far the sheet (or the air) is above 80 °F in tens of kelvin, how far the speed is
    /// above 10 ft/min in ft/min. Without a speed the last is zero and teaches nothing.
    fn row(self, conditions: &Conditions) -> Option<Three> {
        let warmer = self.temperature(conditions)? - Temperature::from_fahrenheit(80.0);
        let faster = conditions.speed.map_or(0.0, |speed| speed.feet_per_minute() - 10.0);
        let row = [1.0, warmer.kelvin() / 10.0, faster];
        row.iter().all(|column| column.is_finite()).then_some(row)
    }
}

/// Closed windows of one welder, by name and kind, on one sheet, oldest first.
///
/// Only windows whose both ends were found: the middle of a bracket that was good throughout is
/// the center it started from, whatever the window, and would teach that nothing ever moves.
pub fn observations<'a>(
    trials: impl IntoIterator<Item = &'a JudgedTrial>,
    welder: &Welder,
    polymer: Polymer,
    thickness: Thickness,
) -> Vec<Observation> {
    let same_sheet = |judged: &JudgedTrial| {
        let off = judged.trial.thickness.millimeters() - thickness.millimeters();
        judged.trial.polymer == polymer && off.abs() <= CONVERSION_NOISE
    };
    let same_welder = |judged: &JudgedTrial| {
        judged.trial.welder == welder.name && judged.trial.welder_kind == welder.kind
    };
    let mut record: Vec<Observation> = trials
        .into_iter()
        .filter(|judged| same_welder(judged) && same_sheet(judged))
        .filter_map(observation)
        .collect();
    record.sort_by(in_time);
    record
}

fn observation(judged: &JudgedTrial) -> Option<Observation> {
    let window = judged.reading.window.filter(|window| window.is_closed())?;
    let RunSetting::RunAt { speed, .. } = judged.reading.setting else { return None };
    let trial = &judged.trial;
    let conditions = Conditions { ambient: trial.ambient, sheet: trial.sheet, speed };
    Some(Observation { when: trial.when, conditions, center: window.middle() })
}

fn in_time(one: &Observation, other: &Observation) -> std::cmp::Ordering {
    let degrees = |seen: &Observation| seen.center.celsius();
    one.when.cmp(&other.when).then_with(|| degrees(one).total_cmp(&degrees(other)))
}

/// What is believed before the first trial, in K, tens of K and ft/min.
///
/// The middle at 80 °F and 10 ft/min: 480 °C give or take 110 K, which is nearly nothing. For each
/// degree that the sheet is warmer 1.65 degrees less heat, give or take 0.8; for each ft/min 26 °F
/// more, give or take 13 °F. Both ratios follow from the model of [`HeatPerSpeed::modeled`], whose
/// range over 40 to 110 °F is 1.5 to 1.8; the spreads are wide enough for a model that is wrong by
/// half. A scatter of 25 °F, which is what steps of 100 °F alone leave in a middle, weighing as
/// much as four trials.
///
/// [`HeatPerSpeed::modeled`]: super::HeatPerSpeed::modeled
pub fn belief_before_data() -> Belief {
    let per_foot_per_minute = 26.0 / 1.8;
    Belief::before_data(
        [480.0, -1.65 * 10.0, per_foot_per_minute],
        [110.0, 0.8 * 10.0, per_foot_per_minute / 2.0],
        25.0 / 1.8,
        4.0,
    )
}

impl Learned {
    /// Learns from `record`, in any order; trials that `basis` cannot use are left out.
    pub fn from_record(record: &[Observation], basis: Basis) -> Self {
        let mut record: Vec<Observation> = record.to_vec();
        record.sort_by(in_time);
        let mut used: Vec<(Observation, (Three, f64))> = record
            .into_iter()
            .filter(|seen| seen.center.celsius().is_finite())
            .filter_map(|seen| Some((seen, (basis.row(&seen.conditions)?, seen.center.celsius()))))
            .collect();
        used.drain(..used.len().saturating_sub(MOST_TRIALS));
        let rows: Vec<(Three, f64)> = used.iter().map(|(_, row)| *row).collect();
        let before = belief_before_data();
        let belief = before.after(&rows).unwrap_or(before);
        let left_out: Vec<LeftOut> =
            (1..used.len()).filter_map(|index| leave_out(&used, &rows, index)).collect();
        let standing = standing(used.len(), &left_out);
        Self { basis, trials: used.len(), belief, left_out, standing }
    }

    /// Which temperature it goes by.
    pub const fn basis(&self) -> Basis {
        self.basis
    }

    /// From how many trials it was learned.
    pub const fn trials(&self) -> usize {
        self.trials
    }

    /// Whether it has earned to be offered.
    pub const fn standing(&self) -> Standing {
        self.standing
    }

    /// How each trial but the first would have been foreseen, oldest first.
    pub fn left_out(&self) -> &[LeftOut] {
        &self.left_out
    }

    /// How many degrees of heat a degree of sheet (or air) is worth, as learned.
    pub const fn heat_per_degree(&self) -> f64 {
        self.belief.coefficients()[1] / 10.0
    }

    /// How much heat 1 ft/min is worth, as learned.
    pub const fn heat_per_foot_per_minute(&self) -> TemperatureDifference {
        TemperatureDifference::from_kelvin(self.belief.coefficients()[2])
    }

    /// The middle to expect under `conditions`; offered only once it has been earned.
    pub fn offer(&self, conditions: &Conditions) -> Option<Expectation> {
        matches!(self.standing, Standing::Earned(_)).then(|| self.expect(conditions)).flatten()
    }

    /// The middle to expect under `conditions`, earned or not; for showing how it stands.
    ///
    /// `None` where it goes by the sheet and the sheet's temperature is not known.
    pub fn expect(&self, conditions: &Conditions) -> Option<Expectation> {
        let predicted = self.belief.at(self.basis.row(conditions)?)?;
        Some(Expectation {
            middle: Temperature::from_celsius(predicted.middle),
            band: TemperatureDifference::from_kelvin(predicted.half_width_90()),
        })
    }
}

/// The estimates for trial `index`, which has one before it, from the others and from the past.
fn leave_out(
    used: &[(Observation, (Three, f64))],
    rows: &[(Three, f64)],
    index: usize,
) -> Option<LeftOut> {
    let (seen, (row, _)) = used.get(index)?;
    let (before, past, later) =
        (used.get(index.checked_sub(1)?)?, rows.get(..index)?, rows.get(index + 1..)?);
    let foreseen = |rows: &[(Three, f64)]| {
        let predicted = belief_before_data().after(rows)?.at(*row)?;
        Some(Temperature::from_celsius(predicted.middle))
    };
    Some(LeftOut {
        when: seen.when,
        found: seen.center,
        from_the_others: foreseen(&[past, later].concat())?,
        from_the_past: foreseen(past)?,
        carried_over: before.0.center,
    })
}

fn standing(trials: usize, left_out: &[LeftOut]) -> Standing {
    if trials < TRIALS_TO_EARN || left_out.is_empty() {
        return Standing::TooFewTrials { have: trials, need: TRIALS_TO_EARN };
    }
    let mean = |foreseen: fn(&LeftOut) -> Temperature| {
        let sum: f64 =
            left_out.iter().map(|trial| (foreseen(trial) - trial.found).abs().kelvin()).sum();
        TemperatureDifference::from_kelvin(sum / left_out.len() as f64)
    };
    let errors = MeanErrors {
        from_the_others: mean(|trial| trial.from_the_others),
        from_the_past: mean(|trial| trial.from_the_past),
        carried_over: mean(|trial| trial.carried_over),
    };
    let to_beat = errors.carried_over * MUST_BE_WITHIN;
    if errors.from_the_others < to_beat && errors.from_the_past < to_beat {
        Standing::Earned(errors)
    } else {
        Standing::CarryOverIsBetter(errors)
    }
}
