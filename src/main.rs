//! The `fairseam` command; everything happens in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    fairseam::cli::run()
}
