//! The log: one line an event on stderr, for people or for programs.

use std::io;

/// How a line looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogStyle {
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}

/// Starts the log of this process; a second time changes nothing.
///
/// No key and no address that holds one is ever given to it.
pub fn start_log(style: LogStyle) {
    let lines = tracing_subscriber::fmt()
        .with_writer(io::stderr)
        .with_max_level(tracing::Level::INFO)
        .with_target(false)
        .with_ansi(false)
        // A line that cannot be written would be complained of on the same stderr, which panics where
        // that is a file on a full disk. The server goes on without its log.
        .log_internal_errors(false);
    let _ = match style {
        LogStyle::Text => lines.try_init(),
        LogStyle::Json => lines.json().flatten_event(true).try_init(),
    };
}
