//! Days with the names that a language has for them.

use chrono::{Datelike, NaiveDate};

use super::{Language, tell};

/// `Wednesday, April 21, 2027`.
pub fn date(language: Language, date: NaiveDate) -> String {
    tell!(
        language,
        "date-full",
        weekday = date.weekday().number_from_monday(),
        month = date.month(),
        day = date.day(),
        year = date.year(),
    )
}

/// `Wednesday, April 21`.
pub fn date_of_this_year(language: Language, date: NaiveDate) -> String {
    let weekday = date.weekday().number_from_monday();
    tell!(language, "date-of-this-year", weekday, month = date.month(), day = date.day())
}

/// `Apr 21`.
pub fn short_date(language: Language, date: NaiveDate) -> String {
    tell!(language, "date-short", month = date.month(), day = date.day())
}

/// `Wednesday`.
pub fn weekday(language: Language, date: NaiveDate) -> String {
    tell!(language, "weekday", weekday = date.weekday().number_from_monday())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_read_as_each_language_writes_them() {
        let spring = NaiveDate::from_ymd_opt(2027, 4, 21).unwrap();
        assert_eq!(date(Language::En, spring), "Wednesday, April 21, 2027");
        assert_eq!(date_of_this_year(Language::En, spring), "Wednesday, April 21");
        assert_eq!(short_date(Language::En, spring), "Apr 21");
        // CLDR 44 for es-US: full date, then its names of weekdays and months, in lower case.
        assert_eq!(date(Language::Es, spring), "miércoles, 21 de abril de 2027");
        assert_eq!(date_of_this_year(Language::Es, spring), "miércoles, 21 de abril");
        assert_eq!(short_date(Language::Es, spring), "21 abr");
        assert_eq!(weekday(Language::Es, spring), "miércoles");
    }

    #[test]
    fn english_days_are_those_of_chrono() {
        let days = NaiveDate::from_ymd_opt(2027, 1, 1).unwrap().iter_days().take(365);
        for day in days {
            assert_eq!(date(Language::En, day), day.format("%A, %B %-d, %Y").to_string());
            assert_eq!(short_date(Language::En, day), day.format("%b %-d").to_string());
            assert_eq!(weekday(Language::En, day), day.format("%A").to_string());
        }
    }
}
