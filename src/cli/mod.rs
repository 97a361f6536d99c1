//! The commands, one file each: parse, call, print.
//!
//! Results go to stdout, talk to stderr. Exit 0 done, 1 could not do it, 2 wrong usage.

mod arguments;
pub mod book;
mod calendar_file;
mod check;
mod clock;
mod explain;
mod folders;
mod outcome;
mod plan;
pub mod record;
mod shell;

use std::process::ExitCode;

use clap::Parser;

use arguments::{Command, CommandLine};

/// Runs the command line of this process.
pub fn run() -> ExitCode {
    let result = match CommandLine::parse().command {
        Command::Plan(arguments) => plan::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Explain(arguments) => explain::run(&arguments),
    };
    outcome::report(result)
}
