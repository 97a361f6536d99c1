//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

mod calendar_checker;
mod calendar_events;
mod calendar_hostile;
mod calendar_plan;
mod calendar_read_back;
mod calendar_revisions;
mod calendar_store;
