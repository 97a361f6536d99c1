//! Why a body is not a forecast.

use chrono::{DateTime, Utc};

use crate::weather::ForecastSpan;

/// Why a body is not a forecast. Each says what was expected, what was found, and where.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ParseError {
    /// There is nothing in it.
    #[error("expected a forecast, found an empty body")]
    Empty,
    /// A web page, as proxies and overloaded servers send them.
    #[error("expected a forecast, found a web page (HTML){}", titled(.title.as_deref()))]
    WebPage {
        /// What its `<title>` says, if it has one.
        title: Option<String>,
    },
    /// The text ends in the middle.
    #[error("the JSON breaks off at line {line}, column {column}: the reply or file is cut short")]
    CutShort {
        /// Counted from one.
        line: usize,
        /// Counted from one.
        column: usize,
    },
    /// Not JSON, or not the shape that the source documents.
    #[error("{expected} cannot be read: {detail}")]
    Malformed {
        /// What was expected.
        expected: &'static str,
        /// What the reader says, with line and column.
        detail: String,
    },
    /// The service answers with an error of its own.
    #[error("the reply is an error message of the service: {reason}")]
    ServiceError {
        /// In its words.
        reason: String,
    },
    /// Something that no forecast is without.
    #[error("expected {expected} in {place}, found none")]
    Missing {
        /// What was expected.
        expected: String,
        /// Where.
        place: &'static str,
    },
    /// Arrays that belong together differ in length.
    #[error(
        "`{first}` has {first_length} values and `{second}` has {second_length}; expected as many in both"
    )]
    Lengths {
        /// The array of times.
        first: String,
        /// Its length.
        first_length: usize,
        /// The other array.
        second: String,
        /// Its length.
        second_length: usize,
    },
    /// A unit that is not known for this kind of value.
    #[error("`{field}` is in the unit \"{unit}\"; expected one of {known}")]
    UnknownUnit {
        /// Name of the value in the source.
        field: String,
        /// The unit as the source writes it.
        unit: String,
        /// The units that are understood.
        known: &'static str,
    },
    /// A number that no weather has.
    #[error("`{field}` is {got} at {at}; expected {allowed}")]
    Implausible {
        /// Name of the value in the source.
        field: String,
        /// The number as the source gives it, with its unit.
        got: String,
        /// When.
        at: DateTime<Utc>,
        /// The range that is allowed.
        allowed: &'static str,
    },
    /// A time, interval or number that cannot be read.
    #[error("`{field}` is \"{found}\"{}; expected {expected}", at_line(*.line))]
    Unreadable {
        /// Name of the value in the source.
        field: String,
        /// What stands there.
        found: String,
        /// Line of a CSV file.
        line: Option<u64>,
        /// What was expected.
        expected: &'static str,
    },
    /// Local times without an offset: twice a year they do not say which hour is meant.
    #[error(
        "the times are local ({zone}) and carry no offset, so the hour is not certain; \
         save the reply with `timezone=GMT&timeformat=unixtime`"
    )]
    LocalTimes {
        /// The zone or offset that the reply names.
        zone: String,
    },
    /// The series does not advance hour by hour.
    #[error("`{field}` goes from {before} to {after}; expected {expected}")]
    Steps {
        /// Name of the array or column of times.
        field: &'static str,
        /// A time.
        before: DateTime<Utc>,
        /// The one that follows it.
        after: DateTime<Utc>,
        /// What was expected.
        expected: &'static str,
    },
    /// The hours do not make a series.
    #[error(transparent)]
    Span(#[from] ForecastSpan),
    /// Two columns or more for the same thing.
    #[error("the columns `{first}` and `{second}` hold the same thing; keep one of them")]
    TwoColumns {
        /// The first.
        first: String,
        /// The second.
        second: String,
    },
    /// None of the shapes that are understood.
    #[error(
        "expected a saved reply of Open-Meteo, the NWS or MET Norway, or a CSV whose header has \
         `time_utc` and `temp_f` or `temp_c`; found {found}"
    )]
    Unrecognized {
        /// What it looks like instead.
        found: String,
    },
}

fn titled(title: Option<&str>) -> String {
    title.map_or_else(String::new, |title| format!(" titled \"{title}\""))
}

fn at_line(line: Option<u64>) -> String {
    line.map_or_else(String::new, |line| format!(" in line {line}"))
}
