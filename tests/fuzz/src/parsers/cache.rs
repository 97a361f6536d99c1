//! What the cache folder holds, read back when something has been at it: replies of a service, what is
//! remembered of its host, finished site-years.

use std::cell::RefCell;
use std::fs;
use std::time::Duration;

use chrono::{DateTime, NaiveDate, TimeZone, Utc};
use fairseam::plan::{PlanInput, plan_day};
use fairseam::render::text::{Paint, plan_text};
use fairseam::season::kept_year as year;
use fairseam::site::{self, Site};
use fairseam::testweld::NoRecords;
use fairseam::weather::{
    Answer, Jitter, Patience, Place, Request, Source, SourceSettings, WeatherError, forecast_for,
};
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};

const SITE: &str = include_str!("../../../../config/demo/site.toml");
/// Nobody listens there; a part of the replies' names is made from it.
const BASE: &str = "http://127.0.0.1:9";
/// The reply for the demo's place and that base.
const REPLY: &str = "open-meteo_forecast_38.84_-97.61_dff840d2.reply";
const HOST: &str = "host_open-meteo_127.0.0.1-9.json";

/// An evening on which the seed is three hours old.
fn now() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2027, 4, 21, 2, 0, 0).single().expect("a moment")
}

/// A folder for the cache, and who asks with it.
struct Asker {
    runtime: Runtime,
    folder: TempDir,
    site: Site,
}

thread_local! {
    static ASKER: RefCell<Option<Asker>> = const { RefCell::new(None) };
}

impl Asker {
    fn new() -> Self {
        let runtime = Builder::new_current_thread().enable_all().build().expect("a runtime");
        // In memory where there is such a place: what is remembered of a host would wait for the disk.
        let folder = tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir());
        let folder = folder.expect("a folder");
        let site = site::load(SITE, "site.toml").expect("the demo's site is sound").site;
        Self { runtime, folder, site }
    }

    fn with<T>(ask: impl FnOnce(&Self) -> T) -> T {
        ASKER.with_borrow_mut(|asker| ask(asker.get_or_insert_with(Self::new)))
    }

    fn write(&self, name: &str, body: &[u8]) {
        fs::write(self.folder.path().join(name), body).expect("room for a file");
    }

    fn ask(&self, offline: bool) -> Result<Answer, WeatherError> {
        let settings = SourceSettings {
            base_url: Some(BASE.to_owned()),
            ..SourceSettings::of(Source::OpenMeteo)
        };
        let place = Place {
            latitude_deg: self.site.latitude_deg,
            longitude_deg: self.site.longitude_deg,
            elevation: self.site.elevation,
        };
        let patience = Patience {
            overall: Duration::ZERO,
            jitter: Jitter::None,
            pace: 0.0,
            ..Patience::default()
        };
        let cache_dir = self.folder.path();
        let request =
            Request { place, settings: &settings, now: now(), cache_dir, offline, patience };
        self.runtime.block_on(forecast_for(&request))
    }
}

/// A kept reply: what it stands in for can be planned and shown, its age included.
pub(super) fn kept_reply(body: &[u8]) -> bool {
    Asker::with(|asker| {
        asker.write(REPLY, body);
        let Ok(answer) = asker.ask(true) else { return false };
        let input = PlanInput {
            site: &asker.site,
            time_zone: asker.site.time_zone.expect("the demo's site has a zone"),
            date: NaiveDate::from_ymd_opt(2027, 4, 21).expect("a day"),
            now: now(),
            forecast: &answer.forecast,
            earlier: &NoRecords { carry_days: 7 },
        };
        plan_day(&input).is_ok_and(|plan| !plan_text(&plan, Paint::Plain).is_empty())
    })
}

/// What is remembered of a host: it is left alone, or asked in vain; whether it was left alone.
pub(super) fn kept_host(body: &[u8]) -> bool {
    Asker::with(|asker| {
        let _ = fs::remove_file(asker.folder.path().join(REPLY));
        asker.write(HOST, body);
        let error = asker.ask(false).expect_err("nobody answers");
        assert!(!error.to_string().is_empty(), "refused without a word");
        matches!(error, WeatherError::NotBefore { .. })
    })
}

/// A finished site-year, as it is or without the line that closes it: what is taken in is a year,
/// and the same one again.
pub(super) fn kept_year(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let lines = match text.strip_suffix('\n').and_then(|whole| whole.rsplit_once('\n')) {
        Some((lines, closing)) if closing.starts_with("sealed ") => format!("{lines}\n"),
        _ => text.to_owned(),
    };
    let as_it_is = year::read(text);
    let Some(days) = year::read(&year::seal(lines)) else {
        assert!(as_it_is.is_none(), "it was whole");
        return false;
    };
    assert!(days.is_sorted_by(|one, next| one.date < next.date), "out of order");
    for work in days.iter().filter_map(|day| day.workday) {
        assert!(work.held.total() <= u32::from(work.working_minutes), "{work:?}");
        assert!([work.air_c.0, work.air_c.1, work.seam_m].iter().all(|number| number.is_finite()));
    }
    assert_eq!(year::read(&year::write(&days)), Some(days));
    as_it_is.is_some()
}
