//! The crew's page: what a phone on the roof shows, and the rules by which it judges on its own.

mod rules;

pub use rules::{JudgingRules, WelderRange};
