//! The crew's page: what a phone on the roof shows, with or without signal.
//!
//! The page is whole without a script: what is next, the day's list, the cautions. Its scripts
//! (`src/server/assets/crew*.js`) count down, take a trial tap by tap, judge it and send it; all that
//! they say and all figures that they need stand in the page as data.

mod data;
mod figures_of;
mod page;
mod parts;
mod rules;
mod script_words;
mod standing;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

pub use page::{ASSETS, page};
pub use rules::{JudgingRules, WelderRange};

use super::markup;
use crate::plan::DayPlan;
use crate::quality::DayReport;
use crate::site::Site;
use crate::testweld::Trial;
use crate::words::Language;

/// What a page is made of.
#[derive(Debug, Clone, Copy)]
pub struct CrewPage<'a> {
    /// The site.
    pub site: &'a Site,
    /// By which addresses call it.
    pub site_key: &'a str,
    /// Whose key the phone has.
    pub holder: &'a str,
    /// In which the page speaks.
    pub language: Language,
    /// The zone of the shift.
    pub zone: Tz,
    /// Our clock.
    pub now: DateTime<Utc>,
    /// When plan and book were looked at.
    pub at: DateTime<Utc>,
    /// Stands for the plans; a page with another is old.
    pub plan_version: &'a str,
    /// Stands for the book; a page with another is old.
    pub book_version: &'a str,
    /// The day under way, or the next one.
    pub today: CrewDay<'a>,
    /// The day after.
    pub tomorrow: CrewDay<'a>,
    /// The newest trial of the book, whose words are offered again.
    pub last: Option<&'a Trial>,
    /// How the forecast came, where that is worth knowing.
    pub warnings: &'a [String],
}

/// One day of the page.
#[derive(Debug, Clone, Copy)]
pub struct CrewDay<'a> {
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// The plan, in the page's language, or why there is none.
    pub plan: Result<&'a DayPlan, &'a str>,
    /// Its trials against the plan that counts.
    pub report: &'a DayReport,
}
