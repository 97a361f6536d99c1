//! What went wrong with one request.

use chrono::TimeDelta;

use crate::weather::sources::ParseError;

/// What went wrong with one request.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Failure {
    /// No answer, or not the whole of it, in time.
    #[error("no complete answer from {host} within {seconds} s")]
    Timeout {
        /// Who was asked.
        host: String,
        /// How long was waited.
        seconds: f64,
    },
    /// There is no way to the host.
    #[error("{host} cannot be reached: {detail}")]
    Unreachable {
        /// Who was asked.
        host: String,
        /// What the system says.
        detail: String,
    },
    /// The connection broke within the answer.
    #[error("the answer of {host} broke off: {detail}")]
    BrokenOff {
        /// Who was asked.
        host: String,
        /// What the library says.
        detail: String,
    },
    /// Another status than success.
    #[error("{host} answered with status {status}{}", because(.reason.as_deref()))]
    Status {
        /// Who was asked.
        host: String,
        /// The HTTP status.
        status: u16,
        /// What the body says, in the service's words.
        reason: Option<String>,
        /// How long the service asks to wait.
        retry_after: Option<TimeDelta>,
    },
    /// More than a forecast can be.
    #[error("the answer of {host} is larger than {limit} bytes; a forecast is not")]
    TooBig {
        /// Who was asked.
        host: String,
        /// How much is taken.
        limit: usize,
    },
    /// Not JSON by its header.
    #[error("{host} answered with \"{found}\"; expected JSON")]
    ContentType {
        /// Who was asked.
        host: String,
        /// What the header says.
        found: String,
    },
    /// A redirect that is not followed.
    #[error("{host} redirects {problem}")]
    Redirect {
        /// Who was asked.
        host: String,
        /// Why it is not followed.
        problem: String,
    },
    /// "Not modified", without having been asked.
    #[error("{host} answered \"not modified\" to a request for the whole forecast")]
    UnaskedNotModified {
        /// Who was asked.
        host: String,
    },
    /// The body is no forecast.
    #[error("the answer of {host} cannot be used: {problem}")]
    Unreadable {
        /// Who was asked.
        host: String,
        /// What is wrong with it.
        problem: ParseError,
    },
}

impl Failure {
    /// The HTTP status, where there was one that is no success.
    pub const fn status(&self) -> Option<u16> {
        match self {
            Self::Status { status, .. } => Some(*status),
            _ => None,
        }
    }

    /// One thing that the user can do next.
    pub(crate) const fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Timeout { .. } | Self::BrokenOff { .. } | Self::Unreachable { .. } => {
                Some("look at the connection and run again, or give `--forecast FILE`")
            }
            Self::Status { status: 401, .. } => Some("look at `api_key` under [weather]"),
            Self::Status { status: 403, .. } => Some(
                "look at `contact` under [weather]: services refuse those who do not say who they are",
            ),
            Self::Status { status: 500.., .. } | Self::Status { status: 429, .. } => {
                Some("run again in some minutes, or give `--forecast FILE`")
            }
            Self::ContentType { .. } | Self::Unreadable { .. } => {
                Some("run again in some minutes; in a guest network, sign in to it first")
            }
            _ => None,
        }
    }
}

fn because(reason: Option<&str>) -> String {
    reason.map_or_else(String::new, |reason| format!(": {reason}"))
}
