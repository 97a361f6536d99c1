//! Asking a service: one request within bounds, and when to ask again.

mod client;
mod failure;
mod patience;
pub(crate) mod policy;

pub(crate) use client::{Accept, Ask, Client, Reply, Validity, host};
pub use failure::Failure;
pub use patience::{Jitter, Patience};
