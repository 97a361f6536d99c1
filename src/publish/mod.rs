//! Following days: the loop that looks, publishes what changed, and carries it to a calendar file
//! and a calendar server.
//!
//! [`World`] is everything outside: clock, weather, book, log. [`Follower`] is the loop, and knows
//! no more of the world than that, so that a test can run a day in a moment.

mod backoff;
pub mod caldav;
mod follower;
mod health;
mod one_site;
mod release;
mod world;

pub use follower::{Follower, Setup, Tick};
pub use one_site::FollowedSite;
pub use release::PublishFault;
pub use world::{SiteForecast, Wake, World};
