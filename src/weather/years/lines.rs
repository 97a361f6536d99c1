//! Files of an hour a line, of as many years as there are: where each year lies in them.
//!
//! One pass notes the bytes of each year with its margins, so that a year is later read without the
//! others, and no more than one is in memory.

use std::collections::BTreeMap;
use std::path::Path;

use chrono::{DateTime, Datelike, TimeDelta, Utc};

use super::disk::Content;
use super::kind::Kind;
use super::{MARGIN, YearsError, ends_of};
use crate::weather::Forecast;
use crate::weather::sources::neutral_csv::Stamps;
use crate::weather::sources::{ParseError, isd_lite, json, neutral_csv};

/// Sums stamped with the end of their hours belong to a year although the stamp lies beyond it.
const SUMS_REACH: TimeDelta = TimeDelta::hours(24);

/// Where the years of a file of lines lie.
#[derive(Debug)]
pub(super) struct Lines {
    /// The header and its end, where the kind has one.
    header: Vec<u8>,
    years: BTreeMap<i32, Part>,
    pub(super) first: DateTime<Utc>,
    pub(super) last: DateTime<Utc>,
}

/// The lines of one year: all of them lie in here, and perhaps others.
#[derive(Debug, Clone, Copy)]
struct Part {
    from: u64,
    to: u64,
    first_line: u64,
}

impl Lines {
    /// Reads through a file once.
    pub(super) fn of(path: &Path, kind: Kind) -> Result<Self, YearsError> {
        let content_error =
            |problem: ParseError| YearsError::Content { path: path.to_owned(), problem };
        let mut content = Content::open(path)?;
        let (mut line, mut number, mut at) = (Vec::new(), 0_u64, 0_u64);
        let mut header = Vec::new();
        let mut stamps = None;
        if kind == Kind::Csv {
            at += content.line(&mut line)?;
            number += 1;
            header.clone_from(&line);
            if !header.ends_with(b"\n") {
                header.push(b'\n');
            }
            stamps = Some(Stamps::of(&header).map_err(content_error)?);
        }
        let mut ends: Option<(DateTime<Utc>, DateTime<Utc>)> = None;
        let mut years: BTreeMap<i32, Part> = BTreeMap::new();
        loop {
            let length = content.line(&mut line)?;
            if length == 0 {
                break;
            }
            number += 1;
            let (from, to) = (at, at + length);
            at = to;
            content.check_length(at)?;
            if line.trim_ascii().is_empty() {
                continue;
            }
            let text = String::from_utf8_lossy(&line);
            let stamp = match &stamps {
                Some(stamps) => stamps.stamp(&text, number),
                None => isd_lite::stamp_of(&text, number),
            };
            let stamp = stamp.map_err(content_error)?;
            ends = Some(ends.map_or((stamp, stamp), |(a, b)| (a.min(stamp), b.max(stamp))));
            for year in years_near(stamp) {
                let part = years.entry(year).or_insert(Part { from, to, first_line: number });
                part.to = to;
            }
        }
        let (first, last) = ends.ok_or_else(|| content_error(ParseError::Empty))?;
        Ok(Self { header, years, first, last })
    }

    /// The hours of a year with its margins; `None` when the file has none of them.
    pub(super) fn year(
        &self,
        path: &Path,
        kind: Kind,
        year: i32,
        read_at: DateTime<Utc>,
    ) -> Result<Option<Forecast>, YearsError> {
        let Some(part) = self.years.get(&year) else { return Ok(None) };
        let content = Content::open(path)?;
        let lines = content.part(part.from, part.to - part.from)?;
        let series = match kind {
            Kind::Csv => {
                let header = json::without_mark(&self.header);
                let body = [header, &lines].concat();
                neutral_csv::parse_part(&body, part.first_line - 2, read_at)
            }
            _ => isd_lite::parse(&lines, part.first_line, read_at),
        };
        let content_error = |problem| YearsError::Content { path: path.to_owned(), problem };
        series.map(Some).map_err(content_error)
    }
}

/// The years to which a stamp belongs, be it by their margins.
fn years_near(stamp: DateTime<Utc>) -> impl Iterator<Item = i32> {
    let near = move |year: &i32| {
        ends_of(*year).is_some_and(|(starts_at, ends_at)| {
            stamp >= starts_at - MARGIN && stamp <= ends_at + MARGIN + SUMS_REACH
        })
    };
    (stamp.year() - 1..=stamp.year() + 1).filter(near)
}
