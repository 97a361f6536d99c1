//! `fairseam record`: one trial, asked for, typed as flags or read as JSON; judged; written down.

pub mod draft;
pub mod fault;
pub mod flags;
pub mod json_form;
pub mod quantity;
mod strict_json;
pub mod strip_syntax;
