//! What can be typed behind `fairseam follow`.

use std::path::PathBuf;

use clap::Args;

use crate::cli::arguments::ForecastArguments;

/// Keep the plan current through the shift, and publish what the crew would do differently.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam follow roof.toml
  fairseam follow roof.toml barn.toml
  fairseam follow roof.toml --once

Environment:
  FAIRSEAM_CALDAV_LOGIN  `user:password` of the calendar server (publish.caldav)")]
pub(in crate::cli) struct FollowArguments {
    /// The site files, one or more.
    #[arg(required = true, value_name = "SITE")]
    pub(in crate::cli) sites: Vec<PathBuf>,
    /// Look once and end, for a scheduler that calls again.
    #[arg(long)]
    pub(in crate::cli) once: bool,
    #[command(flatten)]
    pub(in crate::cli) forecast: ForecastArguments,
}
