//! Years behind: hourly records, cut into calendar years.
//!
//! [`open`] is how they are asked for. It gives one [`WeatherYear`] at a time, so that thirty years
//! need no more memory than one. Each holds an ordinary [`Forecast`](super::Forecast), with up to
//! [`MARGIN`] of the neighboring years on either side: the first shift of a local year begins before
//! the UTC year does, and what stood wet on the roof the evening before still counts.

mod archive;
mod disk;
mod error;
mod files;
mod kind;
mod lines;
mod open;
mod year;

pub use error::YearsError;
use files::utc_ends as ends_of;
pub use open::{Archive, Years, YearsRequest, YearsSource, open};
pub use year::{Coverage, MARGIN, MonthJoin, NOMINAL_YEAR, Origin, WeatherYear, YearLabel};
