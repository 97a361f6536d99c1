//! What the tests of the weather clients share: a place, a clock, short waits, and one way to ask.

use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::weather::{
    Answer, Jitter, Patience, Place, Request, Source, SourceSettings, WeatherError, forecast_for,
};

use super::weather_server::Server;

pub(crate) const OPEN_METEO: &str =
    include_str!("../fixtures/open-meteo/invented_three_hours.json");
pub(crate) const MET_NORWAY: &str = include_str!("../fixtures/met-norway/invented_complete.json");
pub(crate) const POINT: &str = include_str!("../fixtures/nws/LZK_83_73.point.json");
pub(crate) const GRID: &str = include_str!("../fixtures/nws/LZK_83_73.grid.json");
pub(crate) const HOURLY: &str = include_str!("../fixtures/nws/LZK_83_73.hourly.json");

/// Little Rock, the place of the NWS fixtures.
pub(crate) const LITTLE_ROCK: Place =
    Place { latitude_deg: 34.749, longitude_deg: -92.275, elevation: None };
/// A place that only MET Norway and Open-Meteo forecast for.
pub(crate) const OSLO: Place =
    Place { latitude_deg: 59.9333, longitude_deg: 10.7166, elevation: None };

/// Who asks: a place, a source, a folder, and whether there is a network.
pub(crate) struct Asker {
    pub(crate) settings: SourceSettings,
    pub(crate) place: Place,
    pub(crate) offline: bool,
    pub(crate) patience: Patience,
    folder: tempfile::TempDir,
}

impl Asker {
    pub(crate) fn new(source: Source, place: Place, server: &Server) -> Self {
        let settings = SourceSettings {
            contact: Some("foreman@example.com".to_owned()),
            base_url: Some(server.base()),
            ..SourceSettings::of(source)
        };
        let folder = tempfile::tempdir().unwrap();
        Self { settings, place, offline: false, patience: SHORT, folder }
    }

    /// Asks `minutes` after noon.
    pub(crate) fn ask(&self, minutes: i64) -> Result<Answer, WeatherError> {
        self.ask_with(minutes, &self.cache())
    }

    pub(crate) fn ask_with(&self, minutes: i64, cache_dir: &Path) -> Result<Answer, WeatherError> {
        run(forecast_for(&self.request(minutes, cache_dir)))
    }

    pub(crate) fn request<'a>(&'a self, minutes: i64, cache_dir: &'a Path) -> Request<'a> {
        Request {
            place: self.place,
            settings: &self.settings,
            now: noon() + TimeDelta::minutes(minutes),
            cache_dir,
            offline: self.offline,
            patience: self.patience,
        }
    }

    pub(crate) fn cache(&self) -> PathBuf {
        self.folder.path().join("weather")
    }

    /// Name and content of every kept reply, sorted.
    pub(crate) fn kept(&self) -> Vec<(String, Vec<u8>)> {
        let Ok(entries) = std::fs::read_dir(self.cache()) else { return Vec::new() };
        let mut kept: Vec<_> = entries
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|extension| extension == "reply"))
            .map(|path| {
                let name = path.file_name().unwrap().to_string_lossy().into_owned();
                (name, std::fs::read(path).unwrap())
            })
            .collect();
        kept.sort();
        kept
    }
}

/// Pauses a thousand times shorter than in earnest.
const SHORT: Patience = Patience {
    connect: Duration::from_millis(500),
    total: Duration::from_secs(2),
    overall: Duration::from_secs(10),
    longest_pause: Duration::from_secs(30),
    body_limit: 1 << 20,
    quiet_after_full_hour: Duration::ZERO,
    jitter: Jitter::None,
    pace: 0.001,
};

pub(crate) fn noon() -> DateTime<Utc> {
    "2026-03-01T12:00:00Z".parse().unwrap()
}

/// Whether `at` is `minutes` after noon, give or take how long the test ran.
pub(crate) fn is_minutes(at: DateTime<Utc>, minutes: i64) -> bool {
    (TimeDelta::zero()..TimeDelta::seconds(20))
        .contains(&(at - noon() - TimeDelta::minutes(minutes)))
}

pub(crate) fn run<T>(future: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(future)
}
