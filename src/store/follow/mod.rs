//! What `fairseam follow` keeps between runs, in `<data folder>/follow.sqlite3`: each followed day as
//! it was published, who follows which site, and what a calendar server has yet to take.
//!
//! A database beside the book: what stands here changes all day, and the book never does.

mod days;
mod fault;
mod forecast_wire;
mod lease;
mod opening;
mod outbox;
mod reason_wire;
mod wire;

pub use days::{FollowedDay, published_at};
pub use fault::FollowFault;
pub use lease::{Holder, Taken};
pub use opening::FollowStore;
pub use outbox::{Outgoing, Wanted};
