//! A trial as the book holds it: judged, with its corrections and what was run on it.

use chrono::{DateTime, Utc};

use crate::site::Welder;
use crate::testweld::{JudgedTrial, Judging, Trial};
use crate::units::{Temperature, TravelSpeed};

/// One trial of the book in its present form.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptTrial {
    /// By which it is called.
    pub id: String,
    /// When its present form was written down.
    pub written_at: DateTime<Utc>,
    /// As it stands now.
    pub judged: JudgedTrial,
    /// The checkpoint of the plan that it was made for, where the crew said so.
    pub checkpoint: Option<String>,
    /// The correction that gave it its present form; `None` where it was never corrected.
    pub correction: Option<Correction>,
    /// What it said before, oldest first.
    pub earlier: Vec<EarlierForm>,
    /// When it was withdrawn, oldest first; empty for nearly all. It was put back since, unless it is
    /// told as a [`WithdrawnTrial`].
    pub withdrawals: Vec<Withdrawal>,
    /// Settings that were run on it, oldest first.
    pub ran: Vec<Ran>,
    /// Air at its minute as forecast, where the crew read its own thermometer and a forecast was
    /// at hand.
    pub forecast: Option<ForecastAir>,
}

/// What a trial said before it was corrected.
#[derive(Debug, Clone, PartialEq)]
pub struct EarlierForm {
    /// When that form was written down.
    pub written_at: DateTime<Utc>,
    /// As it stood then.
    pub judged: JudgedTrial,
    /// The checkpoint that it was said to be made for.
    pub checkpoint: Option<String>,
    /// The correction that gave it that form; `None` for the first.
    pub correction: Option<Correction>,
}

/// Who corrected a trial, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// Who.
    pub by: String,
    /// Why.
    pub why: String,
}

/// When a trial was withdrawn, by whom and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Withdrawal {
    /// When that was written down.
    pub at: DateTime<Utc>,
    /// Who, and why.
    pub said: Correction,
    /// How many forms of the trial were written down before; clocks may not tell the order.
    pub forms_before: usize,
}

/// A trial that should not have been written down: it counts for nothing and stays readable.
#[derive(Debug, Clone, PartialEq)]
pub struct WithdrawnTrial {
    /// As it stood last.
    pub trial: KeptTrial,
    /// What took it out.
    pub withdrawal: Withdrawal,
}

/// A setting that was really run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ran {
    /// When that was written down.
    pub written_at: DateTime<Utc>,
    /// What the machine was set to.
    pub heat: Temperature,
    /// `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
}

/// Air as forecast for the minute of a trial.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForecastAir {
    /// The air.
    pub air: Temperature,
    /// When the forecast was issued, or else fetched.
    pub issued_at: DateTime<Utc>,
}

impl KeptTrial {
    /// A trial that was never corrected, judged by the site's welders.
    pub fn new(
        id: String,
        written_at: DateTime<Utc>,
        trial: Trial,
        welders: &[Welder],
        judging: &Judging,
    ) -> Self {
        let welder = welders.iter().find(|welder| welder.name == trial.welder);
        let judged = JudgedTrial::new(trial, welder, judging);
        let (earlier, withdrawals, ran) = (Vec::new(), Vec::new(), Vec::new());
        Self {
            id,
            written_at,
            judged,
            checkpoint: None,
            correction: None,
            earlier,
            withdrawals,
            ran,
            forecast: None,
        }
    }

    /// When the trial was made.
    pub const fn when(&self) -> DateTime<Utc> {
        self.judged.trial.when
    }
}
