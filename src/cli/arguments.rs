//! What can be typed.

use std::path::PathBuf;
use std::str::FromStr;

use super::book::flags::BookArguments;
use super::follow::flags::FollowArguments;
use super::outlook::flags::OutlookArguments;
use super::record::flags::RecordArguments;
use super::serve::flags::ServeArguments;
use crate::words::Language;
use chrono::{Datelike, NaiveDate, NaiveDateTime};
use clap::{Args, Parser, Subcommand, ValueEnum};

/// Plans the mandatory test welds of a hot-air welded roof from tomorrow's weather.
#[derive(Debug, Parser)]
#[command(name = "fairseam", version, max_term_width = 90)]
#[command(after_help = "Environment:
  FAIRSEAM_HOME  folder for data and cache (default: the platform's own folders)
  FAIRSEAM_NOW   fixes the clock, RFC 3339 (for tests and for replaying a day)
  NO_COLOR       no color, whatever the terminal")]
pub(super) struct CommandLine {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Plan(PlanArguments),
    Check(CheckArguments),
    Explain(ExplainArguments),
    Record(Box<RecordArguments>),
    Book(BookArguments),
    Outlook(OutlookArguments),
    Cord(CordArguments),
    Serve(Box<ServeArguments>),
    Follow(FollowArguments),
    Completions(CompletionsArguments),
    Manual(ManualArguments),
}

/// Plan one working day: when to test, what to set, when it can be welded.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam plan roof.toml
  fairseam plan roof.toml --ics tomorrow.ics --html tomorrow.html
  fairseam plan roof.toml --date 2027-04-21 --format json
  fairseam plan roof.toml --center 925 --center-speed 8
  fairseam plan roof.toml --offline")]
pub(super) struct PlanArguments {
    /// The site file.
    pub(super) site: PathBuf,
    /// The day on which the shift starts: YYYY-MM-DD, today or tomorrow, on the site's clock.
    #[arg(long, value_name = "DATE", default_value = "tomorrow")]
    pub(super) date: Day,
    /// Write the calendar file for the crew's phones.
    #[arg(long, value_name = "FILE")]
    pub(super) ics: Option<PathBuf>,
    /// Write the page for the crew and the office: for a phone, a desk and a printer.
    #[arg(long, value_name = "FILE")]
    pub(super) html: Option<PathBuf>,
    /// How to print the plan.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
    /// The language of plan, page and calendar: en or es [default: the site file's]
    #[arg(long, value_name = "LANGUAGE")]
    pub(super) language: Option<Language>,
    /// Keep this plan for the daily report and the month though its forecast is a file.
    #[arg(long)]
    pub(super) keep: bool,
    #[command(flatten)]
    pub(super) forecast: ForecastArguments,
    /// The middle of an earlier heat window, in the site's unit of temperature.
    #[arg(long, value_name = "HEAT", allow_negative_numbers = true)]
    pub(super) center: Option<f64>,
    /// The speed at which it was found, in the site's unit.
    #[arg(long, value_name = "SPEED", requires = "center", allow_negative_numbers = true)]
    pub(super) center_speed: Option<f64>,
    /// Sheet temperature at that trial: then the plan says where the middle will be now.
    #[arg(long, value_name = "TEMPERATURE", requires = "center", allow_negative_numbers = true)]
    pub(super) center_sheet: Option<f64>,
    /// The welder that it was found on; without it, every automatic welder of the site.
    #[arg(long, value_name = "NAME", requires = "center")]
    pub(super) center_welder: Option<String>,
}

/// Validate a site file, show every rule in force and where it comes from, try the weather source.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam check roof.toml
  fairseam check roof.toml --offline")]
pub(super) struct CheckArguments {
    /// The site file.
    pub(super) site: PathBuf,
    #[command(flatten)]
    pub(super) forecast: ForecastArguments,
}

/// Show every number behind one minute of the plan: unit, origin, rule, where it is explained.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam explain roof.toml --at '2027-04-21 08:40'
  fairseam explain roof.toml --at '2027-04-21 08:40' --format json
  fairseam explain roof.toml --at '2027-04-21 08:40' --forecast forecast.json
  fairseam explain roof.toml --at '2027-04-21 08:40' --offline")]
pub(super) struct ExplainArguments {
    /// The site file.
    pub(super) site: PathBuf,
    /// The minute, on the site's clock.
    #[arg(long, value_name = "'YYYY-MM-DD HH:MM'")]
    pub(super) at: At,
    /// How to print it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
    #[command(flatten)]
    pub(super) forecast: ForecastArguments,
}

/// Check generator and cord: what they lose, what arrives at the welder, what another cord would
/// give.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam cord roof.toml
  fairseam cord roof.toml --air 95
  fairseam cord roof.toml --gauge 8 --length 50
  fairseam cord roof.toml --format json")]
pub(super) struct CordArguments {
    /// The site file.
    pub(super) site: PathBuf,
    /// Air at the generator in the site's unit; without it, the air of the rating: 77 °F, 25 °C.
    #[arg(long, value_name = "TEMPERATURE", allow_negative_numbers = true)]
    pub(super) air: Option<f64>,
    /// What if the cord were this long, one way, in the site's unit.
    #[arg(long, value_name = "LENGTH", allow_negative_numbers = true)]
    pub(super) length: Option<f64>,
    /// What if its conductors were of this gauge, AWG, 18 to 0.
    #[arg(long, value_name = "AWG", conflicts_with = "mm2")]
    pub(super) gauge: Option<u32>,
    /// What if its conductors were of this cross-section, mm², 1.5 to 16.
    #[arg(long, value_name = "MM2", allow_negative_numbers = true)]
    pub(super) mm2: Option<f64>,
    /// How to print it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

/// Print the completion script of a shell.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam completions bash > ~/.local/share/bash-completion/completions/fairseam
  fairseam completions zsh > ~/.zfunc/_fairseam
  fairseam completions fish > ~/.config/fish/completions/fairseam.fish")]
pub(super) struct CompletionsArguments {
    /// The shell.
    #[arg(value_enum)]
    pub(super) shell: clap_complete::Shell,
}

/// Write the man pages, one a command.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam manual ~/.local/share/man/man1 && man fairseam-plan")]
pub(super) struct ManualArguments {
    /// The folder to write into; it is made if it is not there.
    pub(super) folder: PathBuf,
}

/// Where the forecast comes from.
#[derive(Debug, Clone, Args)]
pub struct ForecastArguments {
    /// Read the forecast from this file instead of asking the site's source.
    #[arg(long, value_name = "FILE")]
    pub(super) forecast: Option<PathBuf>,
    /// Ask no service: use the last forecast that was fetched.
    #[arg(long)]
    pub(super) offline: bool,
}

/// How to print a result.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people.
    Text,
    /// For programs.
    Json,
}

/// A day as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Day {
    /// On the site's clock.
    Today,
    /// On the site's clock.
    Tomorrow,
    /// This one.
    On(NaiveDate),
}

impl FromStr for Day {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        match text {
            "today" => Ok(Self::Today),
            "tomorrow" => Ok(Self::Tomorrow),
            _ => NaiveDate::parse_from_str(text, "%Y-%m-%d").map(Self::On).map_err(|_| {
                "expected a date as YYYY-MM-DD that the calendar has, `today` or `tomorrow`"
                    .to_owned()
            }),
        }
    }
}

/// A wall time as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct At(pub(super) NaiveDateTime);

impl FromStr for At {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let at = ["%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M"]
            .into_iter()
            .find_map(|format| NaiveDateTime::parse_from_str(text, format).ok())
            .filter(|at| (1900..=2200).contains(&at.year()));
        at.map(Self).ok_or_else(|| {
            "expected a date and a time of day as 'YYYY-MM-DD HH:MM', from 1900 to 2200, on the \
             site's clock"
                .to_owned()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_dates_or_words() {
        assert_eq!("tomorrow".parse(), Ok(Day::Tomorrow));
        let leap_day = NaiveDate::from_ymd_opt(2028, 2, 29).unwrap();
        assert_eq!("2028-02-29".parse(), Ok(Day::On(leap_day)));
        for wrong in ["2027-02-29", "29.2.2028", "yesterday", "", "2028-13-01"] {
            assert!(wrong.parse::<Day>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn moments_are_a_date_and_a_time_of_day() {
        let at = NaiveDate::from_ymd_opt(2028, 2, 29).and_then(|date| date.and_hms_opt(8, 40, 0));
        for right in ["2028-02-29 08:40", "2028-02-29T08:40"] {
            assert_eq!(right.parse().ok(), at.map(At), "{right}");
        }
        for wrong in [
            "2027-02-29 08:40",
            "2028-02-29",
            "2028-02-29 24:00",
            "08:40",
            "now",
            "",
            "+262142-12-31 23:59",
            "-262143-01-01 00:00",
            "2028-02-29 08:40:30",
        ] {
            assert!(wrong.parse::<At>().is_err(), "{wrong}");
        }
    }
}
