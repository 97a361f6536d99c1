//! The commands, one file each: parse, call, print.
//!
//! Results go to stdout, talk to stderr. Exit 0 done, 1 could not do it, 2 wrong usage.

mod arguments;
pub mod book;
mod calendar_file;
mod check;
mod clock;
mod cord;
mod earlier;
mod explain;
mod folders;
mod follow;
mod keep_plan;
mod kept_book;
mod manual;
mod outcome;
pub mod outlook;
mod plan;
pub mod record;
pub mod serve;
mod shell;

use std::process::ExitCode;

use clap::Parser;

use arguments::{Command, CommandLine};
use kept_book::{KeptBook, Opening};

/// Runs the command line of this process.
pub fn run() -> ExitCode {
    let result = match CommandLine::parse().command {
        Command::Plan(arguments) => plan::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Explain(arguments) => explain::run(&arguments),
        Command::Record(arguments) => record::run(&arguments, |site, data_folder| {
            let opening = if arguments.dry_run { Opening::ToRead } else { Opening::ToWrite };
            KeptBook::open(site, data_folder, opening, clock::now()?)
        }),
        Command::Book(arguments) => book::run(&arguments, |site, data_folder| {
            let opening =
                if arguments.import.is_some() { Opening::ToWrite } else { Opening::ToRead };
            KeptBook::open(site, data_folder, opening, clock::now()?)
        }),
        Command::Outlook(arguments) => outlook::run(&arguments),
        Command::Cord(arguments) => cord::run(&arguments),
        Command::Serve(arguments) => serve::run(&arguments),
        Command::Follow(arguments) => follow::run(&arguments),
        Command::Completions(arguments) => manual::completions(&arguments),
        Command::Manual(arguments) => manual::pages(&arguments),
    };
    outcome::report(result)
}
