//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, unreachable_pub, clippy::unwrap_used, clippy::panic)]

mod binary;
mod house;
mod plan_output;
mod testweld_accept;
mod testweld_carry;
mod testweld_crew;
mod testweld_learning;
mod testweld_properties;
mod testweld_verdict;
mod testweld_window;
