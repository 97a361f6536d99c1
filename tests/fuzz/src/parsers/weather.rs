//! Forecasts: the replies of the services, and files.

use fairseam::weather::sources::{
    met_norway as norway, neutral_csv as csv, nws, open_meteo as open, recognize,
};

use super::read_at;

/// A reply of Open-Meteo: the forecast.
pub(super) fn open_meteo(body: &[u8]) -> bool {
    open::parse_forecast(body, read_at()).is_ok()
}

/// A reply of Open-Meteo: the ensemble's members.
pub(super) fn open_meteo_ensemble(body: &[u8]) -> bool {
    open::parse_ensemble(body, read_at()).is_ok()
}

/// A reply of Open-Meteo: the zone of a place.
pub(super) fn open_meteo_time_zone(body: &[u8]) -> bool {
    open::parse_time_zone(body).is_ok()
}

/// A reply of MET Norway.
pub(super) fn met_norway(body: &[u8]) -> bool {
    norway::parse_forecast(body, read_at()).is_ok()
}

/// A reply of the NWS: the cell of a point.
pub(super) fn nws_point(body: &[u8]) -> bool {
    nws::parse_point(body).is_ok()
}

/// A reply of the NWS: the layers of a cell.
pub(super) fn nws_grid(body: &[u8]) -> bool {
    let facts = nws::grid_facts(body, read_at());
    nws::parse_forecast(body, None, read_at()).is_ok() && facts.is_ok()
}

/// A reply of the NWS: the hourly periods.
pub(super) fn nws_hourly(body: &[u8]) -> bool {
    nws::parse_hourly(body, read_at()).is_ok()
}

/// A neutral CSV forecast.
pub(super) fn neutral_csv(body: &[u8]) -> bool {
    csv::parse_forecast(body, read_at()).is_ok()
}

/// A forecast file of whatever kind.
pub(super) fn weather_file(body: &[u8]) -> bool {
    recognize::parse_file(body, read_at()).is_ok()
}
