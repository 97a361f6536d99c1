//! Several roofs on one day: which to go to first.

use chrono::NaiveDate;

use super::ahead::DayAhead;
use super::sites::{SiteAhead, SiteHead};

/// The roofs of one day, the one to go to first at the top.
#[derive(Debug, Clone)]
pub struct DayOrder<'a> {
    /// The local day on which the shifts start.
    pub date: NaiveDate,
    /// Roofs that the forecast covers, in order.
    pub roofs: Vec<RoofOfDay<'a>>,
    /// Roofs of which the forecast lacks that day.
    pub unknown: Vec<&'a SiteHead>,
}

/// One roof on one day.
#[derive(Debug, Clone, Copy)]
pub struct RoofOfDay<'a> {
    /// Which roof.
    pub head: &'a SiteHead,
    /// Its day, near enough that its times hold.
    pub day: &'a DayAhead,
}

/// The days whose times hold and on which two roofs or more are worked on, ascending.
///
/// First comes the roof that can be welded first; of equal ones the one with more weldable time, then
/// that with fewer tests, then by name and file. Roofs without a weldable minute come last.
pub fn day_orders(sites: &[SiteAhead]) -> Vec<DayOrder<'_>> {
    let mut dates: Vec<NaiveDate> =
        sites.iter().flat_map(|site| site.ahead.days.iter().map(|row| row.date)).collect();
    dates.sort_unstable();
    dates.dedup();
    let orders = dates.into_iter().map(|date| day_order(sites, date));
    orders
        .filter(|order| order.roofs.len() + order.unknown.len() > 1 && !order.roofs.is_empty())
        .collect()
}

fn day_order(sites: &[SiteAhead], date: NaiveDate) -> DayOrder<'_> {
    let mut order = DayOrder { date, roofs: Vec::new(), unknown: Vec::new() };
    for site in sites {
        match site.ahead.days.iter().find(|row| row.date == date).map(|row| &row.ahead) {
            Some(Some(day)) if day.times_hold => {
                order.roofs.push(RoofOfDay { head: &site.head, day });
            }
            Some(None) => order.unknown.push(&site.head),
            _ => {}
        }
    }
    order.roofs.sort_by(|one, other| {
        let late =
            |roof: &RoofOfDay<'_>| (roof.day.first_weldable.is_none(), roof.day.first_weldable);
        let weldable = |roof: &RoofOfDay<'_>| roof.day.work.weldable_minutes;
        let tests = |roof: &RoofOfDay<'_>| roof.day.work.tests.total();
        late(one)
            .cmp(&late(other))
            .then_with(|| weldable(other).cmp(&weldable(one)))
            .then_with(|| tests(one).cmp(&tests(other)))
            .then_with(|| {
                (&one.head.name, &one.head.file).cmp(&(&other.head.name, &other.head.file))
            })
    });
    order
}
