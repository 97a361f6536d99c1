//! A made-up day on a roof: weather that asks for nothing, with what a test changes in it.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, TimeZone, Utc};
use chrono_tz::America::New_York;
use fairseam::plan::{Checkpoint, DayPlan, PlanInput, Reason, Span, plan_day};
use fairseam::site::{Site, load};
use fairseam::testweld::NoRecords;
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};

use crate::support::example_site;

/// A Wednesday; civil twilight from 04:53 to 20:57, sun highest about 12:55.
pub(crate) const JUNE: &str = "2013-06-05";
/// A Wednesday; civil twilight from 06:34 to 17:00.
pub(crate) const DECEMBER: &str = "2013-12-04";

/// The example site, from 07:00 to 15:30 at Newark, with these values in place of its own.
pub(crate) fn site(overrides: &[(&str, &str)]) -> Site {
    site_of(&example_site(overrides))
}

pub(crate) fn site_of(text: &str) -> Site {
    load(text, "site.toml").unwrap_or_else(|faults| panic!("{faults}\n{text}")).site
}

/// The instant of a clock time on `date` at Newark; hours beyond 23 are on the next day.
pub(crate) fn at(date: &str, clock: &str) -> DateTime<Utc> {
    let date: NaiveDate = date.parse().unwrap();
    let (hour, minute) = clock.split_once(':').unwrap();
    let midnight = New_York.from_local_datetime(&date.and_time(NaiveTime::MIN)).unwrap().to_utc();
    midnight
        + TimeDelta::minutes(hour.parse::<i64>().unwrap() * 60 + minute.parse::<i64>().unwrap())
}

/// An hour in which nothing happens: 68 °F, dry air, a light wind, half a sky of cloud.
fn benign(time: DateTime<Utc>) -> Hour {
    let none = Some(HourSum::of_one_hour(RainDepth::from_millimeters(0.0)));
    Hour {
        air: Some(Temperature::from_fahrenheit(68.0)),
        dew_point: Some(Temperature::from_celsius(5.0)),
        wind: Some(WindSpeed::from_meters_per_second(3.0)),
        gust: Some(WindSpeed::from_meters_per_second(5.0)),
        cloud_cover_pct: Some(50.0),
        surface_pressure_hpa: Some(1013.0),
        rain: none,
        snow: none,
        thunder_probability_pct: Some(0.0),
        thunder_named: Some(false),
        ..Hour::unknown(time)
    }
}

/// Hours from 16 h before the local midnight of `date` to 40 h after it. `change` is given the
/// local hour, negative on the day before, and the hour to change.
pub(crate) fn forecast(date: &str, change: impl Fn(i64, &mut Hour)) -> Forecast {
    let hours = (-16..=40).map(|hour| {
        let mut row = benign(at(date, "0:00") + TimeDelta::hours(hour));
        change(hour, &mut row);
        row
    });
    let provenance = Provenance {
        source: "file".to_owned(),
        issued_at: None,
        fetched_at: at(date, "0:00") - TimeDelta::hours(6),
        stale: false,
        attribution: String::new(),
        time_zone: None,
    };
    Forecast::from_hours(provenance, hours.collect()).unwrap()
}

pub(crate) fn plan(site: &Site, date: &str, forecast: &Forecast) -> DayPlan {
    plan_day(&PlanInput {
        site,
        time_zone: site.time_zone.unwrap(),
        date: date.parse().unwrap(),
        now: forecast.provenance.fetched_at,
        forecast,
        earlier: &NoRecords { carry_days: site.rules.carry_days },
    })
    .unwrap()
}

/// The span that a clock time lies in.
pub(crate) fn span<'a>(plan: &'a DayPlan, clock: &str) -> &'a Span {
    let at = at(&plan.date.to_string(), clock);
    plan.spans.iter().find(|span| span.start <= at && at < span.end).unwrap()
}

/// Minutes of the shift for which one of the reasons is `wanted`.
pub(crate) fn minutes(plan: &DayPlan, wanted: impl Fn(&Reason) -> bool) -> i64 {
    let spans = plan.spans.iter().filter(|span| span.reasons.iter().any(&wanted));
    spans.map(|span| (span.end - span.start).num_minutes()).sum()
}

/// `id HH:MM` of every checkpoint, in local time.
pub(crate) fn tests(plan: &DayPlan) -> Vec<String> {
    plan.checkpoints
        .iter()
        .map(|point| format!("{} {}", point.id, clock(plan, point.time)))
        .collect()
}

pub(crate) fn clock(plan: &DayPlan, at: DateTime<Utc>) -> String {
    at.with_timezone(&plan.time_zone).format("%H:%M").to_string()
}

/// The checkpoint of this id.
pub(crate) fn checkpoint<'a>(plan: &'a DayPlan, id: &str) -> &'a Checkpoint {
    plan.checkpoints.iter().find(|point| point.id == id).unwrap_or_else(|| {
        panic!("no `{id}` among {:?}", tests(plan));
    })
}

pub(crate) fn fahrenheit(degrees: f64) -> Option<Temperature> {
    Some(Temperature::from_fahrenheit(degrees))
}

pub(crate) fn mph(speed: f64) -> Option<WindSpeed> {
    Some(WindSpeed::from_miles_per_hour(speed))
}

pub(crate) fn inches(depth: f64) -> Option<HourSum> {
    Some(HourSum::of_one_hour(RainDepth::from_inches(depth)))
}
