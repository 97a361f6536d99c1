//! The bulk engine over the standing case, for `benches/outlook_peer.py`: one JSON object a run.
//!
//! ```text
//! cargo bench --bench outlook -- run --sites 100 --years 30 --threads 2
//! cargo bench --bench outlook -- emit DIR --sites 4 --years 2
//! cargo bench --bench outlook -- floor --sites 100 --years 30
//! cargo bench --bench outlook -- primitives
//! ```

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a bench prints, and its counts are small"
)]

mod dice;
mod emit;
mod floor;
mod meter;
mod primitives;
mod real;
mod resample;
mod run;
mod sites;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The first of the standing case's thirty years.
const FIRST_YEAR: i32 = 1991;

/// What is asked for.
struct Wanted {
    sites: usize,
    years: usize,
    threads: usize,
    /// Where to write.
    folder: Option<PathBuf>,
}

fn main() -> ExitCode {
    // `cargo bench` adds a flag of its own.
    let arguments: Vec<String> =
        std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    match asked(&arguments).and_then(|(command, wanted)| answer(&command, &wanted)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn asked(arguments: &[String]) -> Result<(String, Wanted), String> {
    let mut wanted = Wanted { sites: 4, years: 2, threads: 1, folder: None };
    let mut words = arguments.iter();
    let command = words.next().map_or("run", String::as_str).to_owned();
    while let Some(word) = words.next() {
        let mut count = || {
            let value = words.next().and_then(|value| value.parse::<usize>().ok());
            value.filter(|count| *count > 0).ok_or(format!("{word} needs a number above 0"))
        };
        match word.as_str() {
            "--sites" => wanted.sites = count()?,
            "--years" => wanted.years = count()?,
            "--threads" => wanted.threads = count()?,
            folder => wanted.folder = Some(folder.into()),
        }
    }
    Ok((command, wanted))
}

fn answer(command: &str, wanted: &Wanted) -> Result<(), String> {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures");
    let real = || real::Real::read(&fixtures).map_err(|error| format!("the real years: {error}"));
    let json = match command {
        "run" => run::run(&real()?, wanted),
        "emit" => emit::emit(&real()?, wanted).map_err(|error| format!("emit: {error}"))?,
        "floor" => floor::floor(&real()?, wanted),
        "primitives" => primitives::primitives(),
        other => return Err(format!("expected run, emit, floor or primitives, found {other}")),
    };
    println!("{json}");
    Ok(())
}

/// The years of the standing case, from its first.
fn years(count: usize) -> impl Iterator<Item = i32> + Clone {
    (FIRST_YEAR..).take(count)
}

/// Hours of a calendar year.
fn hours_of(year: i32) -> usize {
    let leap = chrono::NaiveDate::from_ymd_opt(year, 2, 29).is_some();
    (if leap { 366 } else { 365 }) * 24
}
