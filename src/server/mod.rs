//! Calendar feeds, the crew's page on its phones, the office's page, kept current.
//!
//! In reading order: [`house`] is what the server needs of the rest of the house; `routes` is the
//! one table of what can be asked, by whom; `access` holds every request against it; `roof` is what
//! is known of a site at a moment and `refresh` renews it; `live` tells open pages of it. Then a
//! file or folder a page: `enter`, `feed`, `crew`, `office`, `health`, `assets`. Around them `front`
//! is what every request goes through, `limits` what nobody may do too often, `problem` how an
//! error is told, `listen` the sockets.
//!
//! Requests are answered from what `roof` has at hand; only a trial or a correction touches the disk.

mod access;
mod app;
mod assets;
mod cookie;
mod crew;
mod enter;
mod feed;
mod front;
mod health;
pub mod house;
mod keyring;
mod limits;
mod listen;
mod live;
mod log;
mod office;
mod page;
mod problem;
mod refresh;
mod roof;
mod routes;

pub use access::{Access, Shape};
pub use app::{App, Settings};
pub use limits::Limits;
pub use listen::{ListenFault, Listener, Tls, run};
pub use log::{LogStyle, start_log};
pub use routes::{ROUTES, Route, router};
