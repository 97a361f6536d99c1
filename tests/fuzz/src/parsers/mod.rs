//! Every reader of bytes from outside, by name: what the fuzzer drives and what the plain tests replay.
//!
//! `tests/it/fuzz_replay.rs` takes this folder in as a module of its own, so nothing here needs the
//! fuzzer. A parser panics where one of the promises that stand beside it does not hold.

mod book;
mod cache;
mod calendar;
mod kept;
mod server;
mod site;
mod weather;
mod years;

use chrono::{DateTime, TimeZone, Utc};

/// A reader of bytes from outside.
pub struct Parser {
    /// How it is called on the command line and in `seeds.list`.
    pub name: &'static str,
    /// Reads what it is given, sound or not. Whether it was sound.
    pub read: fn(&[u8]) -> bool,
}

const fn parser(name: &'static str, read: fn(&[u8]) -> bool) -> Parser {
    Parser { name, read }
}

/// All of them.
pub const PARSERS: &[Parser] = &[
    parser("open_meteo", weather::open_meteo),
    parser("open_meteo_ensemble", weather::open_meteo_ensemble),
    parser("open_meteo_time_zone", weather::open_meteo_time_zone),
    parser("met_norway", weather::met_norway),
    parser("nws_point", weather::nws_point),
    parser("nws_grid", weather::nws_grid),
    parser("nws_hourly", weather::nws_hourly),
    parser("neutral_csv", weather::neutral_csv),
    parser("weather_file", weather::weather_file),
    parser("isd_lite", years::isd_lite),
    parser("epw", years::epw),
    parser("tmy3", years::tmy3),
    parser("nasa_power", years::nasa_power),
    parser("open_meteo_archive", years::open_meteo_archive),
    parser("year_file", years::year_file),
    parser("site_file", site::site_file),
    parser("accept_language", site::accept_language),
    parser("trial_json", site::trial_json),
    parser("book_lines", book::book_lines),
    parser("book_table", book::book_table),
    parser("caldav_object", calendar::caldav_object),
    parser("caldav_answer", calendar::caldav_answer),
    parser("caldav_login", calendar::caldav_login),
    parser("calendar_text", calendar::calendar_text),
    parser("followed_day", kept::followed_day),
    parser("kept_plan", kept::kept_plan),
    parser("published_day", kept::published_day),
    parser("kept_reply", cache::kept_reply),
    parser("kept_host", cache::kept_host),
    parser("kept_year", cache::kept_year),
    parser("server", server::server),
];

/// The moment at which a forecast is read.
fn read_at() -> DateTime<Utc> {
    Utc.timestamp_opt(1_365_460_200, 0).single().unwrap_or_default()
}
