//! What it costs to make a changed feed out of a plan: entries, revisions, text; in CPU time, so that
//! whatever else runs on the machine does not count.
//!
//! `cargo bench --bench feed_render`. The bar is one millisecond.
#![allow(clippy::print_stdout, reason = "a bench prints its result")]

use std::error::Error;
use std::hint::black_box;
use std::path::Path;
use std::time::Duration;

use chrono::{DateTime, Utc};
use fairseam::plan::{PlanInput, plan_day};
use fairseam::render::ics::{entries, feed};
use fairseam::store::{DayKey, Previous, revise};
use fairseam::testweld::NoRecords;
use fairseam::weather::{Patience, Place, Request, Source, SourceSettings, forecast_for};
use rustix::time::{ClockId, clock_gettime};

const RUNS: u32 = 2000;

/// CPU time of this process so far.
fn cpu() -> Result<Duration, std::num::TryFromIntError> {
    let spent = clock_gettime(ClockId::ProcessCPUTime);
    Ok(Duration::new(spent.tv_sec.try_into()?, spent.tv_nsec.try_into()?))
}

fn main() -> Result<(), Box<dyn Error>> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("config/demo");
    let text = std::fs::read_to_string(demo.join("site.toml"))?;
    let site = fairseam::site::load(&text, "site.toml")?.site;
    let now: DateTime<Utc> = "2027-04-20T22:00:00Z".parse()?;
    let settings = SourceSettings {
        path: Some(demo.join("forecast.json")),
        ..SourceSettings::of(Source::File)
    };
    let request = Request {
        place: Place {
            latitude_deg: site.latitude_deg,
            longitude_deg: site.longitude_deg,
            elevation: site.elevation,
        },
        settings: &settings,
        now,
        cache_dir: &std::env::temp_dir(),
        offline: true,
        patience: Patience::default(),
    };
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    let forecast = runtime.block_on(forecast_for(&request))?.forecast;
    let plan = plan_day(&PlanInput {
        site: &site,
        time_zone: site.time_zone.ok_or("the demo has a zone")?,
        date: "2027-04-21".parse()?,
        now,
        forecast: &forecast,
        earlier: &NoRecords { carry_days: site.rules.carry_days },
    })?;
    let key = DayKey::of(&plan);
    let mut bytes = 0;
    let started = cpu()?;
    for _ in 0..RUNS {
        let made = entries(black_box(&plan), &site.reminders);
        let (revised, _) = revise(&Previous::Unpublished, &key, &made, site.language, now);
        bytes = black_box(feed(site.language, &site.name, &revised)?).len();
    }
    let each = (cpu()? - started) / RUNS;
    println!("a changed feed of {bytes} bytes out of a plan: {each:?} of CPU time (bar: 1 ms)");
    Ok(())
}
