//! The bulk engine: the plan's own decisions over years of weather, many times faster than planning
//! each day.
//!
//! It takes the same walk, the same rules and the same physics as [`crate::plan::plan_day`], and
//! agrees with it on every checkpoint. What makes it fast is what it leaves out: words, bands,
//! likelihoods, and above all the minutes in which surely nothing happens. `nodes` holds a year by
//! columns; `screen`, `thirds` and `bounds` say what is sure of an hour, `nearness` what a test asks
//! of it; `course` (the walk) and `water` (the film, by `smooth` hours before the shift) look closer
//! only where that is not enough, through `sight`; `clock` counts the seconds, `day` puts a workday
//! together. See docs/bulk-engine.md.

mod bounds;
mod clock;
mod course;
mod day;
mod nearness;
mod nodes;
mod screen;
mod sight;
mod smooth;
mod thirds;
mod water;

use std::sync::Arc;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use self::day::Desk;
use self::nodes::Nodes;
use self::sight::Sight;
use super::day::SeasonDay;
use crate::physics::ephemeris::Ephemeris;
use crate::plan::Roof;
use crate::site::Site;
use crate::weather::Forecast;

/// A test that falls due: the minute of the shift, and the word of what asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueTest {
    /// Minutes after the start of the shift.
    pub minute: usize,
    /// As [`crate::plan::Cause::name`].
    pub cause: &'static str,
}

/// Plans many days of one site. Its room is used again from day to day and from year to year.
pub struct Engine<'s> {
    desk: Desk<'s>,
    nodes: Nodes,
}

impl<'s> Engine<'s> {
    /// For the shifts of `site`, in its zone.
    pub fn new(site: &'s Site, zone: Tz) -> Self {
        Self { desk: Desk::new(site, zone), nodes: Nodes::default() }
    }

    /// What each of `dates` comes to under `weather`, in their order.
    ///
    /// `sun` is [`Roof::ephemeris`] over the year, which sites can share; `on_day` gets the day and
    /// its tests.
    pub fn days(
        &mut self,
        weather: &Forecast,
        sun: Option<Arc<Ephemeris>>,
        dates: impl IntoIterator<Item = NaiveDate>,
        mut on_day: impl FnMut(SeasonDay, &[DueTest]),
    ) {
        let roof = Roof::under(self.desk.site(), weather, sun);
        self.nodes.take(weather, &self.desk.site().rules, &roof.height());
        let mut sight = Sight::new(&roof, weather, &self.nodes);
        for date in dates {
            let workday = self.desk.workday(&mut sight, date);
            let tests = if workday.is_some() { self.desk.tests() } else { &[] };
            on_day(SeasonDay { date, workday }, tests);
        }
    }
}

/// The sun over every shift from one instant to another, to be shared by sites.
pub fn sun_over(from: DateTime<Utc>, to: DateTime<Utc>) -> Option<Arc<Ephemeris>> {
    Roof::ephemeris(from, to)
}
