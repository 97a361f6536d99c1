//! From the days ahead to their JSON.

use chrono::{DateTime, SecondsFormat, Utc};

use super::wire::{Causes, Day, FailedSite, Mode, OutlookJson, Site, Spread, Units, written};
use super::wire_order::{DayOrder, RoofOfDay};
use crate::render::json::Figure;
use crate::season::{self, DayRow, Failed, SiteAhead, SiteHead, day_orders};

/// Version of the shape, raised when a reader of the old one would misread the new.
pub(super) const VERSION: u32 = 1;

/// The days ahead as JSON, by `docs/outlook.schema.json`.
pub fn ahead_json(sites: &[SiteAhead], failed: &[Failed]) -> String {
    written(&OutlookJson {
        fairseam: VERSION,
        mode: Mode::DaysAhead,
        sites: sites.iter().map(site).collect(),
        failed: failed.iter().map(failed_site).collect(),
        order: Some(day_orders(sites).iter().map(order).collect()),
    })
}

fn site(site: &SiteAhead) -> Site {
    let attribution = site.ahead.weather.as_ref().map(|weather| weather.attribution.clone());
    let days = site.ahead.days.iter().map(|row| day(&site.head, row)).collect();
    let stale = site.ahead.weather.as_ref().is_some_and(|weather| weather.stale);
    Site { days: Some(days), stale, ..head(&site.head, attribution) }
}

pub(super) fn head(head: &SiteHead, attribution: Option<String>) -> Site {
    Site {
        site: head.name.clone(),
        file: head.file.clone(),
        time_zone: head.time_zone.name().to_owned(),
        units: Units {
            temperature: head.units.temperature_code().to_owned(),
            length: head.units.length().to_owned(),
        },
        attribution,
        notes: Vec::new(),
        stale: false,
        days: None,
        record: None,
    }
}

pub(super) fn failed_site(failed: &Failed) -> FailedSite {
    FailedSite { file: failed.file.clone(), reason: failed.reason.clone() }
}

fn order(order: &season::DayOrder<'_>) -> DayOrder {
    let roof = |roof: &season::RoofOfDay<'_>| RoofOfDay {
        site: roof.head.name.clone(),
        file: roof.head.file.clone(),
        first_weldable: roof.day.first_weldable.map(|at| time(roof.head, at)),
        weldable_hours: Figure::rounded(f64::from(roof.day.work.weldable_minutes) / 60.0, 2),
        tests: roof.day.work.tests.total(),
        first_test: roof.day.test_times.first().map(|at| time(roof.head, *at)),
    };
    DayOrder {
        date: order.date.to_string(),
        roofs: order.roofs.iter().map(roof).collect(),
        unknown: order.unknown.iter().map(|head| head.file.clone()).collect(),
    }
}

fn time(head: &SiteHead, at: DateTime<Utc>) -> String {
    at.with_timezone(&head.time_zone).to_rfc3339_opts(SecondsFormat::Secs, false)
}

fn day(head: &SiteHead, row: &DayRow) -> Day {
    let Some(day) = &row.ahead else { return uncovered(row) };
    let time = |at: DateTime<Utc>| time(head, at);
    let near = |at: Option<DateTime<Utc>>| at.filter(|_| day.times_hold).map(time);
    let degrees = |difference: crate::units::TemperatureDifference| {
        Figure::rounded(difference.in_units(head.units), 1)
    };
    let tests = &day.work.tests;
    Day {
        date: row.date.to_string(),
        covered: true,
        tests: Some(tests.total()),
        causes: Some(Causes {
            start: tests.start,
            after_break: tests.after_break,
            ambient_change: tests.ambient_change,
            sheet_change: tests.sheet_change,
            elapsed: tests.elapsed,
            after_hold: tests.after_hold,
        }),
        tests_likely: day.likely.and_then(|likely| {
            spread(
                [likely.p10, likely.p50, likely.p90].map(|count| Figure::rounded(float(count), 0)),
            )
        }),
        change_percent: day.change_percent().and_then(|percent| Figure::rounded(percent, 0)),
        test_times: day.times_hold.then(|| day.test_times.iter().map(|at| time(*at)).collect()),
        air_swing: degrees(day.air.1 - day.air.0),
        sheet_swing: day.sheet.and_then(|(low, high)| degrees(high - low)),
        weldable_hours: Figure::rounded(f64::from(day.work.weldable_minutes) / 60.0, 2),
        first_weldable: near(day.first_weldable),
        dry_from: near(day.dry.map(|dry| dry.from)),
        begins_wet: Some(day.work.begins_wet),
        lost_minutes: Some(day.cost_minutes(head.trial_minutes)),
        partly_known: Some(day.work.partly_known),
        advice: Some(day.word.name().to_owned()),
    }
}

fn uncovered(row: &DayRow) -> Day {
    Day {
        date: row.date.to_string(),
        covered: false,
        tests: None,
        causes: None,
        tests_likely: None,
        change_percent: None,
        test_times: None,
        air_swing: None,
        sheet_swing: None,
        weldable_hours: None,
        first_weldable: None,
        dry_from: None,
        begins_wet: None,
        lost_minutes: None,
        partly_known: None,
        advice: None,
    }
}

pub(super) fn spread([p10, p50, p90]: [Option<Figure>; 3]) -> Option<Spread> {
    Some(Spread { p10: p10?, p50: p50?, p90: p90? })
}

#[expect(clippy::cast_precision_loss, reason = "a few tests")]
const fn float(count: usize) -> f64 {
    count as f64
}
