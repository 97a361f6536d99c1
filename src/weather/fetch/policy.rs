//! Whether and when to ask again after a failure. Pure.

use std::time::Duration;

use chrono::{DateTime, DurationRound, NaiveTime, TimeDelta, Utc};

use super::Failure;
use crate::weather::settings::Service;

/// How often a document is asked for at most.
pub(crate) const TRIES: u32 = 3;
/// A longer pause is not believed.
const LONGEST_NOT_BEFORE: TimeDelta = TimeDelta::hours(25);

/// What to do after a failure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Next {
    /// Ask again after a pause between the two bounds.
    Pause {
        /// Lower bound.
        at_least: Duration,
        /// Upper bound.
        at_most: Duration,
    },
    /// Ask no more in this run.
    Stop,
}

/// What to do after try number `tries` failed with `failure`.
pub(crate) fn next(service: Service, failure: &Failure, tries: u32, now: DateTime<Utc>) -> Next {
    match failure {
        Failure::Status { status: 429 | 503, retry_after: Some(asked), .. } => {
            let asked = asked.to_std().unwrap_or_default();
            Next::Pause { at_least: asked, at_most: asked + Duration::from_secs(1) }
        }
        Failure::Status { status: 429, reason, .. } => {
            throttled(service, reason.as_deref().unwrap_or_default(), tries, now)
        }
        Failure::Status { status: 503, .. } if service == Service::Nws => seconds(5, 8),
        Failure::Status { status: 500 | 502 | 503 | 504, .. }
        | Failure::Timeout { .. }
        | Failure::BrokenOff { .. } => backoff(service, tries),
        // Open-Meteo's server reports a failure in the middle of a body with status 200, and so
        // do proxies with their pages.
        Failure::Unreadable { .. } | Failure::ContentType { .. } => backoff(service, tries),
        // Mostly no signal on this side: once more, then the kept forecast, without a long wait.
        Failure::Unreachable { .. } if tries == 1 => seconds(0, 1),
        _ => Next::Stop,
    }
}

/// Until when the service is left alone after the last try, if it has asked for that.
///
/// `strikes` counts the failures in a row, those of earlier runs included.
pub(crate) fn not_before(
    service: Service,
    failure: &Failure,
    strikes: u32,
    now: DateTime<Utc>,
) -> Option<DateTime<Utc>> {
    let pause = match failure {
        Failure::Status { status: 403, .. } if service == Service::MetNorway => {
            TimeDelta::hours(24)
        }
        Failure::Status { status: 429, .. }
        | Failure::Status { status: 503, retry_after: Some(_), .. } => {
            match next(service, failure, strikes, now) {
                Next::Pause { at_least, .. } => TimeDelta::from_std(at_least).ok()?,
                Next::Stop => return None,
            }
        }
        _ => return None,
    };
    Some(now + pause.min(LONGEST_NOT_BEFORE))
}

/// Whether a failure says that the service is in trouble, so that it counts for the breaker. No
/// connection on this side says nothing about the service.
pub(crate) const fn counts(failure: &Failure) -> bool {
    matches!(
        failure,
        Failure::Timeout { .. }
            | Failure::BrokenOff { .. }
            | Failure::ContentType { .. }
            | Failure::Unreadable { .. }
            | Failure::Status { status: 429 | 500.., .. }
    )
}

/// Whether a failure says that the question itself is not answered here, however often it is asked.
pub(crate) const fn refuses(failure: &Failure) -> bool {
    matches!(failure.status(), Some(400 | 401 | 403 | 404 | 405 | 410 | 422 | 501))
}

fn throttled(service: Service, reason: &str, tries: u32, now: DateTime<Utc>) -> Next {
    let until = |at: Option<DateTime<Utc>>| {
        let wait = at.map_or(TimeDelta::minutes(1), |at| at - now);
        let wait = wait.to_std().unwrap_or_default();
        Next::Pause { at_least: wait, at_most: wait + Duration::from_secs(5) }
    };
    let next_full = |step: TimeDelta| now.duration_trunc(step).ok().map(|start| start + step);
    match service {
        Service::Nws => seconds(5, 8),
        // Ten minutes, doubled with each further refusal.
        Service::MetNorway => {
            let minutes = 10 * (1 << tries.saturating_sub(1).min(3));
            Next::Pause {
                at_least: Duration::from_secs(minutes * 60),
                at_most: Duration::from_secs(minutes * 66),
            }
        }
        // Its counters empty at the turn of the minute, of the hour, and of the day in UTC.
        Service::OpenMeteo if reason.contains("Minutely") => {
            until(next_full(TimeDelta::minutes(1)))
        }
        Service::OpenMeteo if reason.contains("Hourly") => until(next_full(TimeDelta::hours(1))),
        Service::OpenMeteo if reason.contains("Daily") => {
            let tomorrow = now.date_naive().succ_opt();
            let five_past = NaiveTime::from_hms_opt(0, 5, 0);
            until(tomorrow.zip(five_past).map(|(day, time)| day.and_time(time).and_utc()))
        }
        Service::OpenMeteo => seconds(5, 15),
        Service::NasaPower => seconds(10, 30),
    }
}

fn backoff(service: Service, tries: u32) -> Next {
    let steps = match service {
        Service::Nws => [1, 4, 15],
        Service::MetNorway | Service::OpenMeteo | Service::NasaPower => [2, 8, 30],
    };
    let step = usize::try_from(tries.saturating_sub(1)).ok().and_then(|index| steps.get(index));
    step.map_or(Next::Stop, |step| seconds(0, *step))
}

const fn seconds(at_least: u64, at_most: u64) -> Next {
    Next::Pause { at_least: Duration::from_secs(at_least), at_most: Duration::from_secs(at_most) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    fn status(status: u16, reason: &str, retry_after: Option<i64>) -> Failure {
        Failure::Status {
            host: "host".to_owned(),
            status,
            reason: Some(reason.to_owned()),
            retry_after: retry_after.map(TimeDelta::seconds),
        }
    }

    fn at_least(next: Next) -> Option<u64> {
        match next {
            Next::Pause { at_least, .. } => Some(at_least.as_secs()),
            Next::Stop => None,
        }
    }

    #[test]
    fn open_meteos_words_say_when_its_counter_empties() {
        let now = at("2026-03-01T22:58:50Z");
        let wait = |reason| at_least(next(Service::OpenMeteo, &status(429, reason, None), 1, now));
        assert_eq!(wait("Minutely API request limit exceeded."), Some(10));
        assert_eq!(wait("Hourly API request limit exceeded."), Some(70));
        // 00:05 UTC of the next day: 1 h 6 min 10 s later.
        assert_eq!(wait("Daily API request limit exceeded."), Some(3970));
        assert_eq!(wait("Too many concurrent requests"), Some(5));
    }

    #[test]
    fn retry_after_goes_before_everything_and_is_kept_for_the_next_run() {
        let now = at("2026-03-01T12:00:00Z");
        for service in [Service::Nws, Service::MetNorway, Service::OpenMeteo] {
            let failure = status(503, "", Some(120));
            assert_eq!(at_least(next(service, &failure, 1, now)), Some(120));
            assert_eq!(not_before(service, &failure, 3, now), Some(now + TimeDelta::minutes(2)));
        }
        let far = status(429, "", Some(9_000_000));
        assert_eq!(not_before(Service::Nws, &far, 1, now), Some(now + LONGEST_NOT_BEFORE));
    }

    #[test]
    fn a_wrong_question_is_not_asked_twice() {
        let now = at("2026-03-01T12:00:00Z");
        for service in [Service::Nws, Service::MetNorway, Service::OpenMeteo] {
            for code in [400, 401, 403, 404, 422] {
                assert_eq!(next(service, &status(code, "", None), 1, now), Next::Stop, "{code}");
            }
        }
    }

    #[test]
    fn met_norway_is_left_alone_for_ten_minutes_and_more() {
        let now = at("2026-03-01T12:00:00Z");
        let throttled = status(429, "", None);
        let pause = |tries| at_least(next(Service::MetNorway, &throttled, tries, now));
        assert_eq!((pause(1), pause(2)), (Some(600), Some(1200)));
        let refused = not_before(Service::MetNorway, &status(403, "", None), 1, now);
        assert_eq!(refused, Some(now + TimeDelta::hours(24)));
        assert_eq!(not_before(Service::Nws, &status(403, "", None), 1, now), None);
    }

    #[test]
    fn trouble_is_backed_off_from_and_no_signal_is_not_waited_for() {
        let now = at("2026-03-01T12:00:00Z");
        let upper = |service, failure: &Failure, tries| match next(service, failure, tries, now) {
            Next::Pause { at_most, .. } => Some(at_most.as_secs()),
            Next::Stop => None,
        };
        for (tries, nws, others) in [(1, 1, 2), (2, 4, 8)] {
            assert_eq!(upper(Service::Nws, &status(500, "", None), tries), Some(nws));
            assert_eq!(upper(Service::MetNorway, &status(502, "", None), tries), Some(others));
        }
        let unreachable =
            Failure::Unreachable { host: "host".to_owned(), detail: "no route".to_owned() };
        assert_eq!(upper(Service::Nws, &unreachable, 1), Some(1));
        assert_eq!(upper(Service::Nws, &unreachable, 2), None);
        assert!(!counts(&unreachable) && counts(&status(500, "", None)));
    }
}
