//! Instants and dates as files give them: RFC 3339, hence with a year of four digits.
//!
//! Chrono's own reader takes years up to ±262143 as well. Near their ends a local time is out of range, and
//! showing it would be a panic: no file that somebody has damaged may come so far.

use std::fmt;

use chrono::{DateTime, NaiveDate, Utc};
use serde::de::{Deserialize, Deserializer, Error, Visitor};

/// An instant, for serde's `deserialize_with`.
pub(crate) fn read<'de, D: Deserializer<'de>>(from: D) -> Result<DateTime<Utc>, D::Error> {
    Instant::deserialize(from).map(|instant| instant.0)
}

/// One that may be `null`; with serde's `default`, one that may be absent.
pub(crate) fn read_some<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<Option<DateTime<Utc>>, D::Error> {
    Ok(Option::<Instant>::deserialize(from)?.map(|instant| instant.0))
}

/// A list of them, each with something else.
pub(crate) fn read_pairs<'de, D: Deserializer<'de>, T: Deserialize<'de>>(
    from: D,
) -> Result<Vec<(DateTime<Utc>, T)>, D::Error> {
    let pairs = Vec::<(Instant, T)>::deserialize(from)?;
    Ok(pairs.into_iter().map(|(instant, other)| (instant.0, other)).collect())
}

/// A day of the calendar.
pub(crate) fn read_date<'de, D: Deserializer<'de>>(from: D) -> Result<NaiveDate, D::Error> {
    let date = NaiveDate::deserialize(from)?;
    let is_written_so = date.to_string().len() == "2026-04-20".len();
    is_written_so.then_some(date).ok_or_else(|| D::Error::custom("a year has four digits"))
}

struct Instant(DateTime<Utc>);

impl<'de> Deserialize<'de> for Instant {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_str(Text).map(Self)
    }
}

struct Text;

impl Visitor<'_> for Text {
    type Value = DateTime<Utc>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("an RFC 3339 time such as 2026-04-20T22:00:00Z")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        let instant = DateTime::parse_from_rfc3339(text).map(|at| at.to_utc());
        instant.map_err(|_| E::invalid_value(serde::de::Unexpected::Str(text), &self))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(serde::Deserialize)]
    struct Wire {
        #[serde(deserialize_with = "read")]
        at: DateTime<Utc>,
        #[serde(default, deserialize_with = "read_some")]
        until: Option<DateTime<Utc>>,
    }

    #[test]
    fn a_date_has_a_year_of_four_digits() {
        #[derive(serde::Deserialize)]
        struct Wire(#[serde(deserialize_with = "read_date")] NaiveDate);
        let of = |date: &str| serde_json::from_str::<Wire>(&format!("\"{date}\""));
        assert_eq!(of("2026-04-20").unwrap().0.to_string(), "2026-04-20");
        for date in ["-262143-01-01", "+262142-12-31", "+12026-04-20", "2026-02-30", ""] {
            assert!(of(date).is_err(), "{date}");
        }
    }

    #[test]
    fn an_instant_has_a_year_of_four_digits_or_none_at_all() {
        let of = |at: &str| serde_json::from_str::<Wire>(&format!("{{\"at\":\"{at}\"}}"));
        for at in ["0000-01-01T00:00:00Z", "9999-12-31T23:59:59.999999999+14:00"] {
            let instant = of(at).unwrap().at;
            // As far as any zone is from UTC.
            for hours in [-14, 14] {
                let zone = chrono::FixedOffset::east_opt(hours * 3600).unwrap();
                assert!(!instant.with_timezone(&zone).to_string().is_empty());
            }
        }
        for at in ["-262143-01-01T00:00:00Z", "+262142-12-31T23:59:59Z", "2026-04-20", ""] {
            assert!(of(at).is_err(), "{at}");
        }
        let both = r#"{"at":"2026-04-20T22:00:00Z","until":null}"#;
        assert_eq!(serde_json::from_str::<Wire>(both).unwrap().until, None);
        let odd = both.replace("null", "\"+12026-04-20T22:00:00Z\"");
        assert!(serde_json::from_str::<Wire>(&odd).is_err());
    }
}
