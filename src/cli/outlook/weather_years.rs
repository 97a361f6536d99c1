//! Where a site's past years come from, and what tells their weather from any other.

use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use super::flags::Years;
use super::kept::hex;
use crate::site::{Site, SourceName};
use crate::weather::Forecast;
use crate::weather::years::{Archive, YearsSource};

/// What `--years` means for a site: its files, or the archive that its terms allow.
///
/// Open-Meteo's archive for a site that names Open-Meteo, on the same terms as its forecast; else
/// NASA POWER, which is open for any use.
pub(super) fn source_of(years: &Years, site: &Site, site_file: &Path) -> YearsSource {
    match years {
        Years::Path(path) => YearsSource::Files(vec![own_folder(path, site_file)]),
        Years::Range(_) if site.weather.source == SourceName::OpenMeteo => {
            YearsSource::Archive(Archive::OpenMeteo)
        }
        Years::Range(_) => YearsSource::Archive(Archive::NasaPower),
    }
}

/// Of a folder with a folder named as the site file, that one; else `path` itself.
fn own_folder(path: &Path, site_file: &Path) -> PathBuf {
    let own = site_file.file_stem().map(|stem| path.join(stem));
    own.filter(|folder| folder.is_dir()).unwrap_or_else(|| path.to_owned())
}

/// A hash over every value of the record, so that the same weather is the same wherever it lies.
pub(super) fn identity(record: &Forecast) -> String {
    let mut hash = Sha256::new();
    let mut put = |value: Option<f64>| match value {
        Some(value) => hash.update(value.to_bits().to_le_bytes()),
        None => hash.update([0xff; 9]),
    };
    put(Some(float(record.first().timestamp())));
    for hour in record.hours() {
        put(hour.air.map(|air| air.kelvin()));
        put(hour.dew_point.map(|dew_point| dew_point.kelvin()));
        put(hour.humidity_pct);
        put(hour.wind.map(|wind| wind.meters_per_second()));
        put(hour.gust.map(|gust| gust.meters_per_second()));
        put(hour.cloud_cover_pct);
        put(hour.shortwave_w_m2);
        put(hour.surface_pressure_hpa);
        put(hour.sea_level_pressure_hpa);
        for sum in [hour.rain, hour.snow] {
            put(sum.map(|sum| sum.share.millimeters()));
            put(sum.map(|sum| sum.total.millimeters()));
            put(sum.map(|sum| f64::from(sum.over_hours)));
        }
        put(hour.thunder_probability_pct);
        put(hour.precipitation_probability_pct);
        put(hour.thunder_named.map(|named| f64::from(u8::from(named))));
    }
    hex(&hash.finalize())
}

#[expect(clippy::cast_precision_loss, reason = "seconds of some centuries")]
const fn float(seconds: i64) -> f64 {
    seconds as f64
}
