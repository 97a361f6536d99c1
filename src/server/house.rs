//! What the server needs of the rest of the house. The shell stands behind it.

use std::fmt;
use std::sync::Arc;

use chrono::{DateTime, NaiveDate, SecondsFormat, Utc};
use chrono_tz::Tz;

use crate::plan::{DayPlan, PlanError};
use crate::quality::{DayReport, KeptTrial, WithdrawnTrial};
use crate::render::OFFICE;
use crate::render::ics::Revised;
use crate::site::Site;
use crate::words::{Language, tell};

/// The rest of the house. Every call may take a while and blocks: it is made on a thread for that.
pub trait House: Send + Sync + 'static {
    /// The present moment.
    fn now(&self) -> DateTime<Utc>;

    /// The sites that are served, in the order in which they were named.
    fn sites(&self) -> &[Arc<Site>];

    /// Has the forecast of a site renewed, if its source allows that by now; a fault is told at the
    /// next [`House::look`].
    fn fetch(&self, site: usize);

    /// All that is to be shown of a site at this moment, from the forecast and the book at hand.
    ///
    /// # Errors
    /// When the book cannot be read, or there is no forecast at all.
    fn look(&self, site: usize) -> Result<Look, HouseFault>;

    /// Something that differs whenever the book has moved on, whoever wrote into it.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn book_mark(&self) -> Result<String, HouseFault>;

    /// Judges a trial and writes it into the book, once however often it is sent.
    ///
    /// # Errors
    /// When it is refused or cannot be written; nothing of it is kept then.
    fn record(&self, site: usize, sent: &Sent<'_>) -> Result<Recorded, HouseFault>;

    /// Puts a corrected form in place of a trial.
    ///
    /// # Errors
    /// When it is refused or cannot be written; nothing of it is kept then.
    fn correct(&self, site: usize, correction: &Corrected<'_>) -> Result<(), HouseFault>;

    /// The days ahead of every site as a whole page.
    ///
    /// # Errors
    /// When it cannot be made.
    fn outlook(&self) -> Result<String, HouseFault>;
}

/// A site at a moment.
#[derive(Debug, Clone)]
pub struct Look {
    /// When it was looked at.
    pub at: DateTime<Utc>,
    /// The zone of its shift.
    pub time_zone: Tz,
    /// The working day under way or next: on a night shift that of the evening before.
    pub today: Day,
    /// The day after.
    pub tomorrow: Day,
    /// Every trial of the book, in any order.
    pub trials: Vec<KeptTrial>,
    /// Every trial that was withdrawn, in any order.
    pub withdrawn: Vec<WithdrawnTrial>,
    /// What its calendar holds.
    pub calendar: Vec<Revised>,
    /// What the user should know about how the forecast came, a sentence each.
    pub warnings: Vec<String>,
}

/// One day of a site.
#[derive(Debug, Clone)]
pub struct Day {
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// The plan, or why there is none.
    pub plan: Result<Arc<DayPlan>, NoPlan>,
    /// Its trials against that plan.
    pub report: DayReport,
}

/// Why a day has no plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoPlan {
    /// Nothing was fetched yet.
    NoForecast,
    /// The forecast or the day is not to be planned.
    NotPlannable(PlanError),
}

impl NoPlan {
    /// In one sentence.
    pub fn said(&self, language: Language) -> String {
        match self {
            Self::NoForecast => tell!(language, "no-plan-no-forecast"),
            Self::NotPlannable(why) => why.said(language),
        }
    }
}

/// For the office and the log.
impl fmt::Display for NoPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(OFFICE))
    }
}

/// A trial as it comes from a phone.
#[derive(Debug, Clone, Copy)]
pub struct Sent<'a> {
    /// By `docs/trial.schema.json`, with the sender's own `sent_id` beside its keys.
    pub json: &'a str,
    /// Whose key it came with.
    pub holder: &'a str,
    /// Of the phone: verdict and refusal are told in it.
    pub language: Language,
}

/// What became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// The trial and its verdict, by `docs/trial.schema.json`.
    pub json: String,
    /// Whether it had come before: then this is the first answer again, and nothing was written.
    pub known: bool,
}

/// A trial in its corrected form.
#[derive(Debug, Clone, Copy)]
pub struct Corrected<'a> {
    /// The trial that it stands in place of.
    pub id: &'a str,
    /// The fields of the form that were filled in, by the names of `fairseam record`'s flags, in
    /// their order: of `heat` and `strips` there are several. `seen` is the [`form_mark`] of the form
    /// that was on the screen.
    pub fields: &'a [(String, String)],
    /// Why.
    pub why: &'a str,
    /// Whose key it came with.
    pub holder: &'a str,
}

/// What stands for the present form of a trial: whoever corrects it says which form was seen.
pub fn form_mark(kept: &KeptTrial) -> String {
    let written = kept.written_at.to_rfc3339_opts(SecondsFormat::Micros, true);
    format!("{} {written}", kept.earlier.len())
}

/// Why the house cannot do it, in a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum HouseFault {
    /// What was sent is no sound trial.
    #[error("{0}")]
    Refused(String),
    /// Something else stands there already.
    #[error("{0}")]
    Conflict(String),
    /// There is no such thing.
    #[error("{0}")]
    NotFound(String),
    /// Nothing that the sender could mend; for the log alone.
    #[error("{0}")]
    Inside(String),
}
