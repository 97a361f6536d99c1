//! Spring and fall against the rest of the year, by the meteorological seasons: three whole months.

use chrono::{Datelike, NaiveDate};

/// A part of the year in which the air of a day moves most, or the rest of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Season {
    /// March to May, south of the equator September to November.
    Spring,
    /// September to November, south of the equator March to May.
    Fall,
    /// Summer and winter.
    Rest,
}

impl Season {
    /// Each of them, in the order in which they are shown.
    pub const ALL: [Self; 3] = [Self::Spring, Self::Fall, Self::Rest];

    /// The season of a date at a latitude, north positive.
    pub fn of(date: NaiveDate, latitude_deg: f64) -> Self {
        match (date.month(), latitude_deg < 0.0) {
            (3..=5, false) | (9..=11, true) => Self::Spring,
            (9..=11, false) | (3..=5, true) => Self::Fall,
            _ => Self::Rest,
        }
    }

    /// The name in every output.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Spring => "spring",
            Self::Fall => "fall",
            Self::Rest => "rest",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seasons_are_three_whole_months_and_turn_at_the_equator() {
        let names = |latitude| -> Vec<&str> {
            let date = |month| NaiveDate::from_ymd_opt(2015, month, 28).unwrap();
            (1..=12).map(|month| Season::of(date(month), latitude).name()).collect()
        };
        let (s, f, r) = ("spring", "fall", "rest");
        assert_eq!(names(40.0), [r, r, s, s, s, r, r, r, f, f, f, r]);
        assert_eq!(names(-34.0), [r, r, f, f, f, r, r, r, s, s, s, r]);
    }
}
