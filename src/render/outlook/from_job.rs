//! From a job moved by a month to its JSON.

use super::from_ahead::spread;
use super::wire::Spread;
use super::wire_job::{JobYears, Move, Moves, Saved};
use crate::render::json::Figure;
use crate::season::{self, JobMove, JobMoves, JobYear, SiteHead};

/// The job as planned and moved.
pub(super) fn job_moves(head: &SiteHead, moves: &JobMoves) -> Moves {
    let job = &moves.job;
    Moves {
        footage: job.footage.and_then(|seam| Figure::rounded(seam.in_units(head.units), 0)),
        start: job.start.to_string(),
        finish: job.finish.to_string(),
        planned: job_years(moves, &moves.planned),
        moved: moves.moved.iter().map(|moved| job_move(moves, moved)).collect(),
    }
}

fn job_move(moves: &JobMoves, moved: &JobMove) -> Move {
    let tests = moved.spread(|year| year.tests);
    let saved = tests.map(|tests| Saved {
        tests: each(Some(tests), whole),
        minutes: each(Some(tests), |tests| whole(moves.minutes(tests))),
        cost: each(Some(tests), |tests| cost(moves, tests)),
        workdays: each(moved.spread(|year| year.workdays), whole),
        weldable_hours_gained: each(moved.spread(|year| year.weldable_gained), hours),
    });
    Move {
        months: moved.months,
        start: moved.start.to_string(),
        takes: job_years(moves, &moved.years),
        years_compared: moved.saved.len(),
        years_saving_tests: moved.years_saving_tests(),
        saved,
    }
}

fn job_years(moves: &JobMoves, years: &[JobYear]) -> JobYears {
    let of = |of: fn(&JobYear) -> u32| {
        season::Spread::of(years.iter().map(|year| i64::from(of(year))).collect())
    };
    let tests = of(|year| year.tests);
    JobYears {
        years_counted: years.len(),
        tests: each(tests, whole),
        minutes: each(tests, |tests| whole(moves.minutes(tests))),
        cost: each(tests, |tests| cost(moves, tests)),
        workdays: each(of(|year| year.workdays), whole),
        weldable_hours: each(of(|year| year.weldable_minutes), hours),
    }
}

fn each(
    values: Option<season::Spread<i64>>,
    show: impl Fn(i64) -> Option<Figure>,
) -> Option<Spread> {
    let values = values?;
    spread([values.p10, values.p50, values.p90].map(show))
}

fn cost(moves: &JobMoves, tests: i64) -> Option<Figure> {
    moves.cost(moves.minutes(tests)).and_then(|cost| Figure::rounded(cost, 2))
}

#[expect(clippy::cast_precision_loss, reason = "tests and days of a job")]
fn whole(count: i64) -> Option<Figure> {
    Figure::rounded(count as f64, 0)
}

#[expect(clippy::cast_precision_loss, reason = "minutes of a job")]
fn hours(minutes: i64) -> Option<Figure> {
    Figure::rounded(minutes as f64 / 60.0, 2)
}
