//! Finished site-years on disk, so that no run repeats them.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::season::{Hold, HoldMinutes, SEASON_VERSION, SeasonDay, TestCauses, Workday};
use crate::site::{Rules, Site};
use crate::store::write_atomically;

const HEAD: &str = "fairseam site-year 1";

/// Where finished site-years are kept.
pub(super) struct Kept {
    folder: PathBuf,
}

impl Kept {
    /// Below the folder for what can be worked out again.
    pub(super) fn below(cache: &Path) -> Self {
        Self { folder: cache.join("outlook") }
    }

    /// The days of a finished site-year; `None` where there is none, or not a whole one.
    pub(super) fn find(&self, key: &str) -> Option<Vec<SeasonDay>> {
        parse(&std::fs::read_to_string(self.path(key)).ok()?)
    }

    /// Keeps a finished site-year.
    ///
    /// # Errors
    /// What the system says; the outlook goes on without.
    pub(super) fn keep(&self, key: &str, days: &[SeasonDay]) -> Result<(), String> {
        std::fs::create_dir_all(&self.folder).map_err(|error| error.to_string())?;
        let text = written(days);
        write_atomically(&self.path(key), text.as_bytes()).map_err(|fault| fault.to_string())
    }

    fn path(&self, key: &str) -> PathBuf {
        self.folder.join(format!("{key}.txt"))
    }
}

/// What a site-year hangs on: the place, the crew's day, the sheet, the machines, the rules, the
/// weather and the program. Not on names, nor on what only the budget asks.
pub(super) fn key(site: &Site, zone: chrono_tz::Tz, weather: &str, year: i32) -> String {
    let rules =
        Rules { crew_size: None, crew_cost_per_hour: None, footage_target: None, ..site.rules };
    let text = format!(
        "{HEAD}|{SEASON_VERSION}|{}|{:?}|{:?}|{:?}|{zone}|{:?}|{:?}|{:?}|{rules:?}|{weather}|{year}",
        env!("CARGO_PKG_VERSION"),
        site.latitude_deg,
        site.longitude_deg,
        site.elevation,
        site.shift,
        site.sheet,
        site.welders,
    );
    hex(&Sha256::digest(text.as_bytes()))
}

/// The first half of a digest, in hexadecimal: enough to tell files apart.
pub(super) fn hex(digest: &[u8]) -> String {
    digest.iter().take(16).fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn written(days: &[SeasonDay]) -> String {
    let mut text = format!("{HEAD}\n");
    for day in days {
        let _ = write!(text, "{}", day.date);
        if let Some(work) = &day.workday {
            let tests = &work.tests;
            let counts = [tests.start, tests.after_break, tests.ambient_change];
            let more = [tests.sheet_change, tests.elapsed, tests.after_hold];
            for count in counts.iter().chain(&more) {
                let _ = write!(text, ",{count}");
            }
            let _ = write!(text, ",{},{}", work.working_minutes, work.weldable_minutes);
            for hold in Hold::ALL {
                let _ = write!(text, ",{}", work.held.of(hold));
            }
            for minute in [work.first_weldable, work.weldable_until] {
                let _ = write!(text, ",{}", minute.map_or_else(String::new, |at| at.to_string()));
            }
            let (low, high) = work.air_c;
            let flags = (u8::from(work.begins_wet), u8::from(work.partly_known));
            let _ = write!(text, ",{low},{high},{},{},{}", work.seam_m, flags.0, flags.1);
        }
        text.push('\n');
    }
    // A file that was cut short lacks it.
    let _ = writeln!(text, "{} days", days.len());
    text
}

fn parse(text: &str) -> Option<Vec<SeasonDay>> {
    let mut lines = text.lines();
    (lines.next()? == HEAD).then_some(())?;
    let mut days = Vec::new();
    let mut closed = None;
    for line in lines {
        match line.strip_suffix(" days") {
            Some(count) => closed = Some(count.parse::<usize>().ok()?),
            None => days.push(parse_day(line)?),
        }
    }
    (closed == Some(days.len())).then_some(days)
}

fn parse_day(line: &str) -> Option<SeasonDay> {
    let fields: Vec<&str> = line.split(',').collect();
    let date = fields.first()?.parse().ok()?;
    if fields.len() == 1 {
        return Some(SeasonDay { date, workday: None });
    }
    (fields.len() == 21).then_some(())?;
    let count = |at: usize| fields[at].parse::<u8>().ok();
    let minutes = |at: usize| fields[at].parse::<u16>().ok();
    let known = |at: usize| match fields[at] {
        "" => Some(None),
        text => text.parse::<u16>().ok().map(Some),
    };
    let number = |at: usize| fields[at].parse::<f32>().ok();
    let mut held = HoldMinutes::default();
    for (at, hold) in (9..).zip(Hold::ALL) {
        held.add(hold, minutes(at)?);
    }
    let workday = Workday {
        tests: TestCauses {
            start: count(1)?,
            after_break: count(2)?,
            ambient_change: count(3)?,
            sheet_change: count(4)?,
            elapsed: count(5)?,
            after_hold: count(6)?,
        },
        working_minutes: minutes(7)?,
        weldable_minutes: minutes(8)?,
        held,
        first_weldable: known(14)?,
        weldable_until: known(15)?,
        air_c: (number(16)?, number(17)?),
        seam_m: number(18)?,
        begins_wet: fields[19] == "1",
        partly_known: fields[20] == "1",
    };
    Some(SeasonDay { date, workday: Some(workday) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_days() -> Vec<SeasonDay> {
        let mut held = HoldMinutes::default();
        held.add(Hold::Rain, 61);
        held.add(Hold::WetSheet, 50);
        let workday = Workday {
            tests: TestCauses { start: 1, ambient_change: 2, after_hold: 1, ..Default::default() },
            working_minutes: 465,
            weldable_minutes: 354,
            held,
            first_weldable: Some(50),
            weldable_until: None,
            begins_wet: true,
            air_c: (-3.1, 0.1 + 0.2),
            seam_m: 812.345,
            partly_known: true,
        };
        let date = |text: &str| text.parse().unwrap();
        vec![
            SeasonDay { date: date("2012-02-28"), workday: Some(workday) },
            SeasonDay { date: date("2012-02-29"), workday: None },
        ]
    }

    #[test]
    fn what_is_kept_comes_back_whole_or_not_at_all() {
        let days = two_days();
        let text = written(&days);
        assert_eq!(parse(&text), Some(days));
        // Cut anywhere, it is no site-year.
        for end in 0..text.trim_end().len() {
            assert_eq!(parse(&text[..end]), None, "{:?}", &text[..end]);
        }
        assert_eq!(parse(&text.replace("2012-02-29", "2012-02-30")), None);
    }
}
