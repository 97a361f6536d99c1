//! What can be typed behind `fairseam book`.

use std::path::PathBuf;
use std::str::FromStr;

use anyhow::bail;
use chrono::{Datelike, NaiveDate};
use clap::Args;

use crate::cli::arguments::{Day, ForecastArguments, Format};

/// Read the test-weld book: trials, heat windows, what was learned, the daily quality report.
#[derive(Debug, Args)]
#[command(after_help = "Without a flag, the trials of this site are listed.

Examples:
  fairseam book roof.toml
  fairseam book roof.toml --trial 1
  fairseam book roof.toml --windows
  fairseam book roof.toml --report today --html report.html
  fairseam book roof.toml --csv 2027-04-01..2027-04-30 > april.csv
  fairseam book roof.toml --month 2027-04
  fairseam book roof.toml --verify")]
#[group(skip)]
pub struct BookArguments {
    /// The site file.
    pub site: PathBuf,
    /// One trial whole, with everything that it said before it was corrected.
    #[arg(long, value_name = "ID", group = "question")]
    pub trial: Option<String>,
    /// Heat windows over time, welder by welder.
    #[arg(long, group = "question")]
    pub windows: bool,
    /// What the record teaches, held against plain carry-over.
    #[arg(long, group = "question")]
    pub learned: bool,
    /// The daily quality report: YYYY-MM-DD or today.
    #[arg(long, value_name = "DATE", group = "question")]
    pub report: Option<Day>,
    /// Every strip as CSV, from one date to another.
    #[arg(long, value_name = "FROM..TO", group = "question")]
    pub csv: Option<Period>,
    /// Test welds planned, made and missed in a month, and the minutes spent.
    #[arg(long, value_name = "YYYY-MM", group = "question")]
    pub month: Option<Month>,
    /// Check that no entry was altered.
    #[arg(long, group = "question")]
    pub verify: bool,
    /// Write every entry to a file: .jsonl or .csv.
    #[arg(long, value_name = "FILE", group = "question")]
    pub export: Option<PathBuf>,
    /// Take in the entries of an exported file that are not in the book yet.
    #[arg(long, value_name = "FILE", group = "question")]
    pub import: Option<PathBuf>,
    /// Write a whole copy of the book, also while it is in use.
    #[arg(long, value_name = "FILE", group = "question")]
    pub backup: Option<PathBuf>,
    /// Write the daily quality report as a page for the printer.
    #[arg(long, value_name = "FILE", requires = "report")]
    pub html: Option<PathBuf>,
    /// Trials of this welder only.
    #[arg(long, value_name = "NAME", conflicts_with_all = ["trial", "learned", "report", "month",
        "verify", "export", "import", "backup"])]
    pub welder: Option<String>,
    /// How to print it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Where the plan of the day comes from.
    #[command(flatten)]
    pub forecast: ForecastArguments,
}

/// What is asked of the book.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// All trials, or those of one welder.
    List(Option<String>),
    /// One trial.
    Trial(String),
    /// Windows over time, of all welders or one.
    Windows(Option<String>),
    /// What was learned.
    Learned,
    /// The daily quality report.
    Report(Day),
    /// Strips of these dates, of all welders or one.
    Csv(Period, Option<String>),
    /// The month that begins on this day.
    Month(NaiveDate),
    /// Check the chain.
    Verify,
    /// Write every entry out.
    Export(PathBuf),
    /// Take entries in.
    Import(PathBuf),
    /// Write a whole copy.
    Backup(PathBuf),
}

/// Dates, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// The first.
    pub from: NaiveDate,
    /// The last.
    pub to: NaiveDate,
}

/// A month as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Month(pub NaiveDate);

impl BookArguments {
    /// The one question that the flags ask.
    ///
    /// # Errors
    /// When a format is asked for that this question has no answer in.
    pub fn asked(&self) -> anyhow::Result<Asked> {
        let asked = self.question();
        let text_only =
            !matches!(asked, Asked::List(_) | Asked::Trial(_) | Asked::Report(_) | Asked::Month(_));
        if self.format == Format::Json && text_only {
            bail!(
                "`--format json` goes with the list, `--trial`, `--report` and `--month`; leave \
                 it out here"
            );
        }
        Ok(asked)
    }

    fn question(&self) -> Asked {
        let welder = || self.welder.clone();
        if let Some(id) = &self.trial {
            Asked::Trial(id.clone())
        } else if self.windows {
            Asked::Windows(welder())
        } else if self.learned {
            Asked::Learned
        } else if let Some(day) = self.report {
            Asked::Report(day)
        } else if let Some(period) = self.csv {
            Asked::Csv(period, welder())
        } else if let Some(Month(first)) = self.month {
            Asked::Month(first)
        } else if self.verify {
            Asked::Verify
        } else if let Some(path) = &self.export {
            Asked::Export(path.clone())
        } else if let Some(path) = &self.import {
            Asked::Import(path.clone())
        } else if let Some(path) = &self.backup {
            Asked::Backup(path.clone())
        } else {
            Asked::List(welder())
        }
    }
}

impl FromStr for Period {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let parse = |text: &str| text.parse::<NaiveDate>().ok().filter(in_reach);
        let (from, to) = text.split_once("..").unwrap_or_default();
        match (parse(from), parse(to)) {
            (Some(from), Some(to)) if from <= to => Ok(Self { from, to }),
            _ => Err("expected two dates as YYYY-MM-DD..YYYY-MM-DD, the earlier first".to_owned()),
        }
    }
}

impl FromStr for Month {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let long_enough = text.len() == "YYYY-MM".len();
        let first = NaiveDate::parse_from_str(&format!("{text}-01"), "%Y-%m-%d").ok();
        first
            .filter(|first| long_enough && in_reach(first))
            .map(Self)
            .ok_or_else(|| "expected a month as YYYY-MM".to_owned())
    }
}

/// Years in which zone rules and calendars are trusted.
fn in_reach(date: &NaiveDate) -> bool {
    (1900..=2200).contains(&date.year())
}
