//! What can be typed behind `fairseam outlook`.

use std::ops::RangeInclusive;
use std::path::PathBuf;
use std::str::FromStr;

use chrono::NaiveDate;
use clap::{Args, ValueEnum};

use crate::cli::arguments::{Day, ForecastArguments};

/// Look ahead or back over many days and many sites: how many test welds, how many weldable hours.
#[derive(Debug, Args)]
#[command(
    after_help = "A SITE is a site file, a folder (all its *.toml), or a text file that lists site
files, one a line. Without --years the days ahead, by the forecast; with it the past
years, by the record.

Examples:
  fairseam outlook roof.toml
  fairseam outlook sites/ --from today --days 7 --html outlook.html
  fairseam outlook roofs.txt --format csv > days.csv
  fairseam outlook roof.toml --years newark.csv
  fairseam outlook sites/ --years records/ --html years.html
  fairseam outlook roof.toml --years 2005..2024
  fairseam outlook roof.toml --years records/ --footage 60000 \\
    --start 2027-03-15 --finish 2027-06-30"
)]
pub struct OutlookArguments {
    /// Site files, folders of them, or lists of them.
    #[arg(value_name = "SITE", required = true)]
    pub sites: Vec<PathBuf>,
    /// First day to look at: YYYY-MM-DD, today or tomorrow, on each site's clock [default: tomorrow].
    #[arg(long, value_name = "DATE", conflicts_with = "years")]
    pub from: Option<Day>,
    /// How many calendar days [default: as far as the forecast goes].
    #[arg(long, value_name = "N", conflicts_with = "years", value_parser = clap::value_parser!(u16).range(1..=366))]
    pub days: Option<u16>,
    /// Past years in place of the forecast: FROM..TO out of an archive, or a weather file (ISD-Lite,
    /// EPW, TMY3, CSV, a saved reply), or a folder of them (one folder for each site, named as its
    /// file, or one for all).
    #[arg(long, value_name = "YEARS", conflicts_with = "forecast")]
    pub years: Option<Years>,
    /// Seam of the whole job, in the site's unit [default: the site's `footage_target`; without
    /// either, the job is its workdays].
    #[arg(long, value_name = "LENGTH", requires = "start", allow_negative_numbers = true)]
    pub footage: Option<f64>,
    /// First day of the job; with --finish, the odds of being done in time, and what moving it by a
    /// month would save.
    #[arg(long, value_name = "DATE", requires_all = ["finish", "years"])]
    pub start: Option<NaiveDate>,
    /// Last day of the job.
    #[arg(long, value_name = "DATE", requires = "start")]
    pub finish: Option<NaiveDate>,
    /// How to print the outlook.
    #[arg(long, value_enum, default_value_t = OutlookFormat::Text)]
    pub format: OutlookFormat,
    /// Write the outlook as a page: for a desk and a printer.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Where the forecast comes from.
    #[command(flatten)]
    pub forecast: ForecastArguments,
}

/// How to print an outlook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum OutlookFormat {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// For spreadsheets: one row for each workday of each site.
    Csv,
}

/// Where past years come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Years {
    /// From an archive.
    Range(RangeInclusive<i32>),
    /// From a file or a folder.
    Path(PathBuf),
}

impl FromStr for Years {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let year = |text: &str| -> Option<i32> {
            let digits = text.len() == 4 && text.bytes().all(|byte| byte.is_ascii_digit());
            text.parse().ok().filter(|_| digits)
        };
        let range = match text.split_once("..") {
            Some((from, to)) => year(from).zip(year(to.trim_start_matches('='))),
            None => year(text).map(|one| (one, one)),
        };
        match range {
            None => Ok(Self::Path(PathBuf::from(text))),
            Some((from, to))
                if (1940..=2200).contains(&from) && (from..from + 100).contains(&to) =>
            {
                Ok(Self::Range(from..=to))
            }
            Some((from, to)) => Err(format!(
                "expected years such as 2005..2024, the earlier first, from 1940 on and at most \
                 100 of them; found {from}..{to}"
            )),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_are_a_range_or_a_path() {
        assert_eq!("2005..2024".parse(), Ok(Years::Range(2005..=2024)));
        assert_eq!("2013".parse(), Ok(Years::Range(2013..=2013)));
        assert_eq!("newark.csv".parse(), Ok(Years::Path("newark.csv".into())));
        assert_eq!("../2013.csv".parse(), Ok(Years::Path("../2013.csv".into())));
        for wrong in ["2024..2005", "1900..2000", "2000..2150"] {
            assert!(wrong.parse::<Years>().is_err(), "{wrong}");
        }
    }
}
