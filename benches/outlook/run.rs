//! The engine over every site and year, one site-year at a time on every thread.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Instant;

use fairseam::season::{SeasonDay, Suns, site_year};
use serde_json::{Value, json};

use crate::meter::{Meter, peak_mib};
use crate::real::Real;
use crate::{Wanted, hours_of, resample, sites, years};

/// What a thread has done.
#[derive(Default)]
struct Done {
    site_hours: usize,
    engine_s: f64,
    tests: u64,
    workdays: u64,
    /// Kept to the end, as a report over them needs.
    days: Vec<Vec<SeasonDay>>,
}

pub(crate) fn run(real: &Real, wanted: &Wanted) -> Value {
    let roofs: Vec<_> = (0..wanted.sites).map(sites::site).collect();
    let years: Vec<i32> = years(wanted.years).collect();
    let (next, suns) = (AtomicUsize::new(0), Suns::default());
    let finished = Mutex::new(Vec::new());
    let begin = Instant::now();
    let work = || {
        let mut done = Done::default();
        loop {
            let turn = next.fetch_add(1, Ordering::Relaxed);
            let Some(year) = years.get(turn / roofs.len()).copied() else { break };
            let number = turn % roofs.len();
            let roof = &roofs[number];
            let Some(zone) = roof.time_zone else { break };
            // Drawing the weather stands for reading it, and is not the engine's time.
            let weather = resample::year(real, number, year).forecast();
            let meter = Meter::start();
            let days = site_year(roof, zone, &weather, year, &suns);
            done.engine_s += meter.seconds();
            done.site_hours += hours_of(year);
            for day in days.iter().filter_map(|day| day.workday) {
                done.tests += u64::from(day.tests.total());
                done.workdays += 1;
            }
            done.days.push(days);
        }
        if let Ok(mut finished) = finished.lock() {
            finished.push(done);
        }
    };
    thread::scope(|scope| {
        for _ in 0..wanted.threads {
            scope.spawn(work);
        }
    });
    let wall_s = begin.elapsed().as_secs_f64();
    let done = finished.into_inner().unwrap_or_default();
    let sum = |of: fn(&Done) -> f64| done.iter().map(of).sum::<f64>();
    let (site_hours, engine_s) = (sum(|done| done.site_hours as f64), sum(|done| done.engine_s));
    let rates = done.iter().filter(|done| done.engine_s > 0.0);
    json!({
        "sites": wanted.sites,
        "years": wanted.years,
        "threads": wanted.threads,
        "site_hours": site_hours,
        "workdays": sum(|done| done.workdays as f64),
        "tests": sum(|done| done.tests as f64),
        "engine_cpu_s": engine_s,
        "site_hours_per_s_and_core": site_hours / engine_s,
        "site_hours_per_s_on_all": rates.map(|done| done.site_hours as f64 / done.engine_s).sum::<f64>(),
        "wall_s_with_the_drawing_of_the_weather": wall_s,
        "peak_mib": peak_mib(),
    })
}
