//! Records of past years: files of stations, typical years, replies of the archives.

use std::cell::RefCell;
use std::fs;

use chrono::{DateTime, TimeZone, Utc};
use fairseam::weather::sources::record::Record;
use fairseam::weather::sources::{
    ParseError, epw as ep, isd_lite as isd, nasa_power as power, open_meteo, tmy3 as tmy,
};
use fairseam::weather::years::{YearsRequest, YearsSource, open};
use fairseam::weather::{Patience, Place, Request, Source, SourceSettings};
use tempfile::TempDir;

/// A year in which every record of the fixtures lies behind.
fn read_at() -> DateTime<Utc> {
    Utc.timestamp_opt(1_800_000_000, 0).single().unwrap_or_default()
}

/// Whether a record was found; its place lies on the earth and its hours ascend.
fn is_sound(found: Result<Record, ParseError>) -> bool {
    let Ok(record) = found else { return false };
    if let Some(Place { latitude_deg, longitude_deg, .. }) = record.place {
        assert!(latitude_deg.abs() <= 90.0 && longitude_deg.abs() <= 180.0, "{:?}", record.place);
    }
    assert!(record.series.hours().is_sorted_by(|one, next| one.time < next.time), "out of order");
    true
}

/// A file of ISD-Lite, as a whole.
pub(super) fn isd_lite(body: &[u8]) -> bool {
    isd::parse(body, 1, read_at()).is_ok()
}

/// An EPW file.
pub(super) fn epw(body: &[u8]) -> bool {
    is_sound(ep::parse(body, read_at()))
}

/// A TMY3 file.
pub(super) fn tmy3(body: &[u8]) -> bool {
    is_sound(tmy::parse(body, read_at()))
}

/// A reply of NASA POWER.
pub(super) fn nasa_power(body: &[u8]) -> bool {
    is_sound(power::parse(body, read_at()))
}

/// A reply of Open-Meteo's archive.
pub(super) fn open_meteo_archive(body: &[u8]) -> bool {
    is_sound(open_meteo::parse_archive(body, read_at()))
}

thread_local! {
    static FOLDER: RefCell<Option<TempDir>> = const { RefCell::new(None) };
}

/// A file of past years of whatever kind, from the disk: its kind is told, its years are found and
/// given one by one, long CSV files and packed ones included.
pub(super) fn year_file(body: &[u8]) -> bool {
    FOLDER.with_borrow_mut(|folder| {
        let folder = folder.get_or_insert_with(|| tempfile::tempdir().expect("a folder"));
        let path = folder.path().join("725300-2015");
        fs::write(&path, body).expect("room for a file");
        let settings = SourceSettings {
            source: Source::File,
            contact: None,
            path: None,
            base_url: None,
            api_key: None,
            non_commercial: false,
        };
        let asked = YearsRequest {
            source: YearsSource::Files(vec![path]),
            years: None,
            request: Request {
                place: Place { latitude_deg: 40.7, longitude_deg: -74.2, elevation: None },
                settings: &settings,
                now: read_at(),
                cache_dir: folder.path(),
                offline: true,
                patience: Patience::default(),
            },
        };
        let Ok(years) = open(asked) else { return false };
        let mut whole = true;
        for year in years {
            let Ok(year) = year else {
                whole = false;
                continue;
            };
            assert!(year.starts_at < year.ends_at, "{:?} ends before it starts", year.label);
        }
        whole
    })
}
