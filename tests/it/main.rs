//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

mod site_file;
