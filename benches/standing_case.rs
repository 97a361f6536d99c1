//! quick
use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};
use fairseam::season::{Engine, sun_over};
use fairseam::site::load;
use fairseam::weather::sources::neutral_csv::parse_forecast;
use fairseam::weather::{Forecast, Hour};
use std::time::Instant;

struct Dice(u64);
impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}

fn main() {
    let text = std::fs::read_to_string("config/example.toml").unwrap();
    let site = load(&text, "example.toml").unwrap().site;
    let zone = chrono_tz::America::New_York;
    let record =
        parse_forecast(&std::fs::read("tests/fixtures/ewr2013.csv").unwrap(), Utc::now()).unwrap();
    let first: DateTime<Utc> = "2013-01-01T07:00:00Z".parse().unwrap();
    let mut by_month: Vec<Vec<usize>> = vec![Vec::new(); 12];
    let hours = record.hours();
    let off = 17; // first midnight
    for day in 0..((hours.len() - off) / 24) {
        let block = &hours[off + day * 24..off + day * 24 + 24];
        if block.iter().all(|h| {
            h.air.is_some() && h.dew_point.is_some() && h.wind.is_some() && h.rain.is_some()
        }) {
            by_month[block[0].time.month0() as usize].push(off + day * 24);
        }
    }
    let _ = first;
    let mut dice = Dice(42);
    let years: Vec<Forecast> = (0..8)
        .map(|k| {
            let year = 2001 + k;
            let start = NaiveDate::from_ymd_opt(year - 1, 12, 30).unwrap();
            let mut cloud: f64 = 50.0;
            let rows: Vec<Hour> = start
                .iter_days()
                .take(370)
                .flat_map(|date| {
                    let pool = &by_month[date.month0() as usize];
                    let from = pool[(dice.next() % pool.len() as u64) as usize];
                    (0..24)
                        .map(|h| {
                            cloud = (cloud + (dice.share() - 0.5) * 60.0).clamp(0.0, 100.0);
                            Hour {
                                time: date.and_hms_opt(0, 0, 0).unwrap().and_utc()
                                    + TimeDelta::hours(h as i64),
                                cloud_cover_pct: Some(cloud.round()),
                                ..hours[from + h]
                            }
                        })
                        .collect::<Vec<_>>()
                })
                .collect();
            Forecast::from_hours(record.provenance.clone(), rows).unwrap()
        })
        .collect();
    let mut engine = Engine::new(&site, zone);
    for _ in 0..3 {
        let (mut tests_n, mut days_n, mut wet, mut held) = (0, 0, 0, 0u64);
        let begin = Instant::now();
        for (k, weather) in years.iter().enumerate() {
            let year = 2001 + k as i32;
            let sun = sun_over(weather.first(), weather.last());
            let dates = NaiveDate::from_ymd_opt(year, 1, 1)
                .unwrap()
                .iter_days()
                .take_while(|d| d.year() == year)
                .filter(|d| d.weekday().num_days_from_monday() < 5);
            engine.days(weather, sun, dates, |day, tests| {
                tests_n += tests.len();
                days_n += 1;
                if let Some(w) = day.workday {
                    wet += w.begins_wet as usize;
                    held += w.held.total() as u64;
                }
            });
        }
        let s = begin.elapsed().as_secs_f64();
        println!(
            "{:.3} s, {:.2} M site-hours/s/core, {:.2} us/workday; {days_n} days {tests_n} tests {wet} begin wet {held} held",
            s,
            years.len() as f64 * 8766.0 / s / 1e6,
            s / days_n as f64 * 1e6
        );
    }
}
