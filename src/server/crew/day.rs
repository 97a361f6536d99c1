//! The day in the shape in which a phone keeps it, for the hours without signal.

use chrono::{DateTime, SecondsFormat, Utc};
use chrono_tz::Tz;
use serde::Serialize;
use serde_json::value::RawValue;

use crate::plan::DayPlan;
use crate::render::json::plan_json;
use crate::render::trial::{Show, report_json};
use crate::server::house::{Day, HouseFault, Look};
use crate::server::roof::Roof;
use crate::site::{Site, Welder};
use crate::testweld::Judging;

/// All that a phone needs of a site's day; numbers in the units of the plan.
#[derive(Serialize)]
struct DayJson<'a> {
    fairseam: u32,
    site_key: &'a str,
    site: &'a str,
    /// `us` or `metric`.
    units: &'static str,
    plan_version: &'a str,
    book_version: &'a str,
    today: OneDay,
    tomorrow: OneDay,
    welders: Vec<WelderJson<'a>>,
    polymer: &'static str,
    thickness: f64,
    judging: JudgingJson,
    /// How the forecast came, where that is worth knowing.
    warnings: &'a [String],
}

#[derive(Serialize)]
struct OneDay {
    date: String,
    /// By `docs/plan.schema.json`.
    plan: Option<Box<RawValue>>,
    why_no_plan: Option<String>,
    /// Every checkpoint with its standing, every trial: what `book --report --format json` prints.
    report: Box<RawValue>,
}

#[derive(Serialize)]
struct WelderJson<'a> {
    name: &'a str,
    /// `automatic` or `hand`.
    kind: &'static str,
    heat_low: f64,
    heat_max: f64,
    heat_step: f64,
    speed_min: Option<f64>,
    speed_max: Option<f64>,
}

/// By what strips are judged.
#[derive(Serialize)]
struct JudgingJson {
    min_strips: usize,
    strip_min_width: f64,
    strip_target_width: f64,
    heat_increment: f64,
}

/// The day as JSON, without the clock, which [`with_clock`] puts in.
pub(in crate::server) fn day_json(
    roof: &Roof,
    look: &Look,
    plan_version: &str,
    book_version: &str,
) -> Result<String, HouseFault> {
    let site = &*roof.site;
    let show = Show { language: site.language, zone: look.time_zone, units: site.units };
    let judging = Judging::of_site(site);
    let day = DayJson {
        fairseam: 1,
        site_key: &roof.key,
        site: &site.name,
        units: match site.units {
            crate::units::UnitSystem::Us => "us",
            crate::units::UnitSystem::Metric => "metric",
        },
        plan_version,
        book_version,
        today: one_day(&look.today, show)?,
        tomorrow: one_day(&look.tomorrow, show)?,
        welders: site.welders.iter().map(|welder| of_welder(welder, site)).collect(),
        polymer: site.sheet.polymer.name(),
        thickness: rounded(site.sheet.thickness.in_units(site.units)),
        judging: JudgingJson {
            min_strips: judging.strips.min_strips,
            strip_min_width: rounded(judging.strips.min_width.in_units(site.units)),
            strip_target_width: rounded(judging.strips.target_width.in_units(site.units)),
            heat_increment: rounded(judging.dial.increment),
        },
        warnings: &look.warnings,
    };
    serde_json::to_string(&day).map_err(inside)
}

/// The present moment in front: a phone's own clock may be off.
pub(super) fn with_clock(day: &str, now: DateTime<Utc>, zone: Tz) -> String {
    let now = now.with_timezone(&zone).to_rfc3339_opts(SecondsFormat::Secs, false);
    let rest = day.strip_prefix('{').unwrap_or(day);
    format!("{{\"now\":\"{now}\",{rest}")
}

fn one_day(day: &Day, show: Show) -> Result<OneDay, HouseFault> {
    let plan = |plan: &DayPlan| RawValue::from_string(plan_json(plan)).map_err(inside);
    let (plan, why_no_plan) = match &day.plan {
        Ok(found) => (Some(plan(found)?), None),
        Err(why) => (None, Some(why.said(show.language))),
    };
    let report = report_json(show, &day.report)
        .ok_or_else(|| HouseFault::Inside("a trial holds a number that is none".to_owned()))?;
    let report = RawValue::from_string(report).map_err(inside)?;
    Ok(OneDay { date: day.date.to_string(), plan, why_no_plan, report })
}

fn of_welder<'a>(welder: &'a Welder, site: &Site) -> WelderJson<'a> {
    let units = site.units;
    WelderJson {
        name: &welder.name,
        kind: welder.kind.name(),
        heat_low: rounded(welder.heat_low.in_units(units)),
        heat_max: rounded(welder.heat_max.in_units(units)),
        heat_step: rounded(welder.heat_step.in_units(units)),
        speed_min: welder.speed.map(|(slowest, _)| rounded(slowest.in_units(units))),
        speed_max: welder.speed.map(|(_, fastest)| rounded(fastest.in_units(units))),
    }
}

/// As somebody would have typed it: what a conversion leaves behind is cut off.
fn rounded(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

fn inside(cause: serde_json::Error) -> HouseFault {
    HouseFault::Inside(format!("the day cannot be written as JSON: {cause}"))
}
