//! What moving a job by a month would save, in a table and in words.

use super::table::{Row, Table, column};
use crate::render::figures;
use crate::season::{JobMove, JobMoves, JobYear, SiteHead, Spread};

/// Above the table and the sentences.
pub(super) const MOVES_CAPTION: &str = "Moving the job by a month";

/// The job as planned and moved: the middle of the years that count.
pub(super) fn moves_table(moves: &JobMoves) -> Table {
    let [earlier, later] = &moves.moved;
    let row = |name: String, years: &[JobYear]| {
        let of = |of: fn(&JobYear) -> u32| {
            Spread::of(years.iter().map(of).collect()).map(|spread| i64::from(spread.p50))
        };
        let show = |value: Option<i64>| value.map_or_else(none, |value| value.to_string());
        let tests = of(|year| year.tests);
        let minutes = tests.map(|tests| moves.minutes(tests));
        let cost = minutes.and_then(|minutes| moves.cost(minutes));
        let weldable = of(|year| year.weldable_minutes);
        let cells = vec![
            name,
            years.len().to_string(),
            show(tests),
            show(minutes),
            cost.map_or_else(none, figures::whole),
            show(of(|year| year.workdays)),
            weldable.map_or_else(none, hours),
        ];
        Row { cells, bar: None }
    };
    Table {
        caption: MOVES_CAPTION.to_owned(),
        columns: vec![
            column("start", "Start"),
            column("years", "Years that carry the job to its end"),
            column("tests", "Tests, the middle"),
            column("min", "Minutes of testing, the middle"),
            column("cost", "Their cost, the middle"),
            column("workdays", "Workdays, the middle"),
            column("weldable h", "Weldable hours of them, the middle"),
        ],
        rows: vec![
            row(format!("earlier, {}", earlier.start), &earlier.years),
            row(format!("planned, {}", moves.job.start), &moves.planned),
            row(format!("later, {}", later.start), &later.years),
        ],
        legend: "The middle of the years whose record carries the job to its end. What a move saves \
            goes by the years that count both ways, each against itself.",
    }
}

/// What either move saves, a sentence or two each, and what the site file lacks for more.
pub(super) fn moves_words(head: &SiteHead, moves: &JobMoves) -> Vec<String> {
    let mut said: Vec<String> = moves.moved.iter().map(|moved| move_words(moves, moved)).collect();
    if moves.job.footage.is_none() {
        said.push(format!(
            "No length of seam is given (`--footage` in {}, or `footage_target` in the site file): \
             the job is its workdays, and there are no odds of being done in time.",
            head.units.length()
        ));
    }
    if moves.cost(0).is_none() {
        said.push(
            "For the cost, set `crew_size` and `crew_cost_per_hour` under `[rules]` in the site file."
                .to_owned(),
        );
    }
    said
}

fn move_words(moves: &JobMoves, moved: &JobMove) -> String {
    let when = if moved.months < 0 { "earlier" } else { "later" };
    let head = format!("A month {when}, from {}", moved.start);
    let middle = |of: fn(&crate::season::JobSaved) -> i64| moved.spread(of).map(|saved| saved.p50);
    let (Some(tests), Some(days)) = (middle(|year| year.tests), middle(|year| year.workdays))
    else {
        return format!("{head}: no year on record carries the job to its end both ways.");
    };
    let minutes = moves.minutes(tests);
    let mut amounts = vec![
        (tests < 0, counted(tests, "test", "tests")),
        (tests < 0, counted(minutes, "minute of testing", "minutes of testing")),
    ];
    if let Some(cost) = moves.cost(minutes) {
        amounts.push((cost < 0.0, format!("{} of crew cost", figures::whole(cost.abs()))));
    }
    if tests == 0 {
        amounts.clear();
    }
    if moves.job.footage.is_some() && days != 0 {
        amounts.push((days < 0, counted(days, "workday", "workdays")));
    }
    let of = |more: bool| -> Vec<&str> {
        let of = amounts.iter().filter(|(is_more, _)| *is_more == more);
        of.map(|(_, amount)| amount.as_str()).collect()
    };
    let mut parts = Vec::new();
    if !of(false).is_empty() {
        parts.push(format!("saves {}", listed(&of(false))));
    }
    let as_many = "as many tests";
    match (of(true).is_empty(), tests == 0) {
        (false, true) => parts.push(format!("takes {} more and {as_many}", listed(&of(true)))),
        (false, false) => parts.push(format!("takes {} more", listed(&of(true)))),
        (true, true) => parts.push(format!("takes {as_many}")),
        (true, false) => {}
    }
    let what = parts.join("; ");
    let gained = match middle(|year| year.weldable_gained) {
        Some(gained) if moves.job.footage.is_none() && gained != 0 => {
            let more = if gained > 0 { "more" } else { "less" };
            format!(" It has {} h {more} to weld in.", hours(gained.abs()))
        }
        _ => String::new(),
    };
    match (moved.years_saving_tests(), moved.saved.len()) {
        (_, 1) => format!("{head}: {what}, in the one year that counts.{gained}"),
        (0, years) => format!(
            "{head}: {what}, in the middle of {years} years.{gained} Tests are saved in none of them."
        ),
        (saving, years) => format!(
            "{head}: {what}, in the middle of {years} years.{gained} Tests are saved in {saving} of \
             them."
        ),
    }
}

/// `1 test`, `8 tests`, without the sign.
fn counted(count: i64, one: &str, many: &str) -> String {
    let count = count.abs();
    format!("{count} {}", if count == 1 { one } else { many })
}

/// `a, b and c`.
fn listed(parts: &[&str]) -> String {
    match parts {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

#[expect(clippy::cast_precision_loss, reason = "minutes of a job")]
fn hours(minutes: i64) -> String {
    format!("{:.1}", minutes as f64 / 60.0)
}

fn none() -> String {
    "-".to_owned()
}
