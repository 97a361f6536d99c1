//! What is kept between runs: the test-weld book, the calendars published so far, the keys.

mod atomic;
pub mod book;
pub mod follow;
pub mod keys;
mod litter;
mod published;
mod published_files;

pub use atomic::{Staged, WriteFault, stage, write_atomically};
pub use published::{DayKey, Previous, PublishedDay, PublishedEvent, revise};
pub use published_files::{LockedStore, PublishedStore, StoreFault};
