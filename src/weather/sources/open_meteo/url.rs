//! The addresses of Open-Meteo.

use chrono::NaiveDate;
use url::Url;

use crate::weather::Place;
use crate::weather::place::append_path;

/// Every variable that the forecast is made of.
const HOURLY: &str = "temperature_2m,dew_point_2m,relative_humidity_2m,precipitation,\
    precipitation_probability,snowfall,weather_code,cloud_cover,wind_speed_10m,wind_gusts_10m,\
    shortwave_radiation,surface_pressure,pressure_msl";

/// The forecast: yesterday's last hours for what is still wet, and a week ahead. One hour more than
/// seven days, since the rain of the last hour is stamped with its end.
pub fn forecast_url(base: &Url, place: &Place) -> Url {
    let mut url = at_place(base, "v1/forecast", place);
    url.query_pairs_mut()
        .append_pair("hourly", HOURLY)
        .append_pair("timeformat", "unixtime")
        .append_pair("timezone", "GMT")
        .append_pair("wind_speed_unit", "ms")
        .append_pair("past_hours", "24")
        .append_pair("forecast_hours", "169");
    url
}

/// The ensemble that is asked for: GEFS of the U.S. weather service, 31 members over the whole world
/// for ten days on a quarter of a degree, every six hours. One model to a question.
const ENSEMBLE_MODEL: &str = "ncep_gefs025";

/// The air of an ensemble's members over the days of [`forecast_url`]: yesterday, for a shift that
/// began before midnight UTC, and a week ahead.
pub fn ensemble_url(base: &Url, place: &Place) -> Url {
    let mut url = at_place(base, "v1/ensemble", place);
    url.query_pairs_mut()
        .append_pair("models", ENSEMBLE_MODEL)
        .append_pair("hourly", "temperature_2m")
        .append_pair("timeformat", "unixtime")
        .append_pair("timezone", "GMT")
        .append_pair("past_days", "1")
        .append_pair("forecast_days", "8");
    url
}

/// Of the variables of a forecast, those that the archive has: no chances and no thunder.
const ARCHIVE_HOURLY: &str = "temperature_2m,dew_point_2m,relative_humidity_2m,precipitation,\
    snowfall,cloud_cover,wind_speed_10m,wind_gusts_10m,shortwave_radiation,surface_pressure,\
    pressure_msl";

/// The hours of past days from `first` to `last`, both included, in UTC.
pub fn archive_url(base: &Url, place: &Place, first: NaiveDate, last: NaiveDate) -> Url {
    let mut url = at_place(base, "v1/archive", place);
    url.query_pairs_mut()
        .append_pair("start_date", &first.to_string())
        .append_pair("end_date", &last.to_string())
        .append_pair("hourly", ARCHIVE_HOURLY)
        .append_pair("timeformat", "unixtime")
        .append_pair("timezone", "GMT")
        .append_pair("wind_speed_unit", "ms");
    url
}

/// A small question whose reply names the IANA zone of the place.
pub fn time_zone_url(base: &Url, place: &Place) -> Url {
    let mut url = at_place(base, "v1/forecast", place);
    url.query_pairs_mut()
        .append_pair("timezone", "auto")
        .append_pair("timeformat", "unixtime")
        .append_pair("hourly", "temperature_2m")
        .append_pair("forecast_hours", "1");
    url
}

fn at_place(base: &Url, path: &str, place: &Place) -> Url {
    let mut url = append_path(base, path);
    url.query_pairs_mut()
        .append_pair("latitude", &place.latitude_text())
        .append_pair("longitude", &place.longitude_text());
    if let Some(elevation) = place.elevation_text() {
        url.query_pairs_mut().append_pair("elevation", &elevation);
    }
    url
}
