//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, unreachable_pub, clippy::unwrap_used, clippy::panic)]

mod binary;
mod house;
mod plan_output;
