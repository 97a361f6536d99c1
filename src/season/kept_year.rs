//! A finished site-year as text, to be kept and read again.
//!
//! One line a day and, last, a digest of all before it: a file that was cut short, mixed up or changed by
//! a single bit is no site-year, and the year is worked out again. What is sealed and yet no year of this
//! program's is not taken in either.

use std::fmt::Write as _;

use chrono::Datelike;
use sha2::{Digest, Sha256};

use super::{Hold, HoldMinutes, SeasonDay, TestCauses, Workday};

/// First line, and what a site-year hangs on besides its contents.
pub const HEAD: &str = "fairseam site-year 2";
/// Fields of a day of work: its date, six causes, two sums, what held, two minutes, three numbers, two flags.
const FIELDS: usize = 21;
/// A shift of a day and the hour that a clock change adds, minutes.
const LONGEST_SHIFT: u16 = 25 * 60;

/// The days of a site-year as text; `read` gives the same days again.
pub fn write(days: &[SeasonDay]) -> String {
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
    seal(text)
}

/// The days that `text` holds; `None` where it is not one whole site-year.
pub fn read(text: &str) -> Option<Vec<SeasonDay>> {
    let end = text.strip_suffix('\n')?.rfind('\n')? + 1;
    let (lines, closing) = text.split_at(end);
    (closing.trim_end() == digest(lines)).then_some(())?;
    let mut lines = lines.lines();
    (lines.next()? == HEAD).then_some(())?;
    let days: Vec<SeasonDay> = lines.map(day).collect::<Option<_>>()?;
    let is_year =
        days.is_sorted_by(|one, next| one.date < next.date && one.date.year() == next.date.year());
    is_year.then_some(days)
}

/// `lines`, the head and the days, with the line that closes them.
pub fn seal(mut lines: String) -> String {
    let closing = digest(&lines);
    lines.push_str(&closing);
    lines.push('\n');
    lines
}

/// Half of it is enough against accidents; who means to deceive can write the file anew.
fn digest(lines: &str) -> String {
    let digest = Sha256::digest(lines.as_bytes());
    digest.iter().take(16).fold("sealed ".to_owned(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn day(line: &str) -> Option<SeasonDay> {
    let fields: Vec<&str> = line.split(',').collect();
    let date = fields.first()?.parse().ok()?;
    if fields.len() == 1 {
        return Some(SeasonDay { date, workday: None });
    }
    (fields.len() == FIELDS).then_some(())?;
    let count = |at: usize| fields[at].parse::<u8>().ok();
    let minutes =
        |at: usize| fields[at].parse::<u16>().ok().filter(|minutes| *minutes <= LONGEST_SHIFT);
    let known = |at: usize| match fields[at] {
        "" => Some(None),
        _ => minutes(at).map(Some),
    };
    let number = |at: usize| fields[at].parse::<f32>().ok().filter(|number| number.is_finite());
    let flag = |at: usize| match fields[at] {
        "0" => Some(false),
        "1" => Some(true),
        _ => None,
    };
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
        begins_wet: flag(19)?,
        partly_known: flag(20)?,
    };
    adds_up(&workday).then_some(SeasonDay { date, workday: Some(workday) })
}

/// What holds of every day that the engine gives.
fn adds_up(work: &Workday) -> bool {
    u32::from(work.working_minutes) == u32::from(work.weldable_minutes) + work.held.total()
        && work.air_c.0 <= work.air_c.1
        && work.seam_m >= 0.0
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
        let text = write(&days);
        assert_eq!(read(&text), Some(days));
        for end in 0..text.len() {
            assert_eq!(read(&text[..end]), None, "cut to {:?}", &text[..end]);
        }
        for at in 0..text.len() {
            for bit in 0..7 {
                let mut changed = text.clone().into_bytes();
                changed[at] ^= 1 << bit;
                let changed = String::from_utf8(changed).unwrap();
                assert_eq!(read(&changed), None, "changed to {changed:?}");
            }
        }
    }

    #[test]
    fn what_is_sealed_and_no_year_of_ours_is_not_taken_in() {
        let text = write(&two_days());
        let (lines, _) = text.split_at(text.find("sealed").unwrap());
        assert!(read(&seal(lines.to_owned())).is_some());
        for (from, to) in [
            ("year 2", "year 1"),
            ("2012-02-29", "2012-02-30"),
            ("2012-02-29", "2012-02-28"),
            ("2012-02-29", "2013-02-28"),
            (",465,354,", ",466,354,"),
            (",465,354,", ",65535,354,"),
            (",61,0,50,", ",61,60000,50,"),
            (",-3.1,", ",NaN,"),
            (",-3.1,", ",3.1,"),
            (",812.345,", ",inf,"),
            (",1,1\n", ",1,2\n"),
            (",1,1\n", ",1\n"),
        ] {
            let changed = lines.replacen(from, to, 1);
            assert_ne!(changed, lines, "{from}");
            assert_eq!(read(&seal(changed)), None, "{from} as {to}");
        }
    }
}
