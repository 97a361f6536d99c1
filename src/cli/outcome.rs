//! How a command ends: its error in one sentence, one thing to do next, the exit code.

use std::io::Write;
use std::process::ExitCode;

use anyhow::Context;

use crate::plan::{ExplainError, PlanError};
use crate::render::steers_a_terminal;
use crate::weather::WeatherError;
use crate::weather::years::YearsError;

/// Prints an error with its causes and its hint, and turns the result into an exit code.
pub(super) fn report(result: anyhow::Result<()>) -> ExitCode {
    let Err(error) = result else { return ExitCode::SUCCESS };
    if is_closed_pipe(&error) {
        return ExitCode::SUCCESS;
    }
    let mut lines = vec![format!("error: {error}")];
    lines.extend(error.chain().skip(1).map(|cause| format!("caused by: {cause}")));
    if let Some(hint) = hint(&error) {
        lines.push(format!("hint: {hint}"));
    }
    say(&lines.join("\n"));
    ExitCode::from(1)
}

/// Prints a line of talk to stderr; a reader that has gone away is no reason to fail.
pub(super) fn say(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{}", printable(text));
}

/// A line of a log: what is quoted in it neither steers a terminal nor begins a line of its own.
pub(super) fn one_line(text: &str) -> String {
    printable(text).replace('\n', " ")
}

/// Arguments and files are quoted in messages: what would steer a terminal must not reach it.
fn printable(text: &str) -> String {
    text.chars().map(|c| if c != '\n' && steers_a_terminal(c) { '\u{fffd}' } else { c }).collect()
}

/// Prints a result to stdout.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn print(text: &str) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())
        .and_then(|()| out.flush())
        .context("the result cannot be written to stdout")
}

/// `fairseam plan … | head` ends when it has seen enough.
fn is_closed_pipe(error: &anyhow::Error) -> bool {
    error
        .downcast_ref::<std::io::Error>()
        .is_some_and(|error| error.kind() == std::io::ErrorKind::BrokenPipe)
}

fn hint(error: &anyhow::Error) -> Option<String> {
    if let Some(error) = error.downcast_ref::<PlanError>() {
        return error.hint().map(str::to_owned);
    }
    if let Some(error) = error.downcast_ref::<ExplainError>() {
        return error.hint().map(str::to_owned);
    }
    if let Some(error) = error.downcast_ref::<YearsError>() {
        return error.hint().map(str::to_owned);
    }
    error.downcast_ref::<WeatherError>().and_then(|error| error.hint().map(str::to_owned))
}
