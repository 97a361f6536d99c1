//! A forecast from a file.

use std::fs;
use std::io::Read;
use std::path::Path;

use super::Request;
use crate::weather::sources::recognize;
use crate::weather::{Forecast, WeatherError};

/// Three years of hours with every column fill a third of this.
const LIMIT: u64 = 64 << 20;

pub(super) fn forecast(request: &Request<'_>) -> Result<Forecast, WeatherError> {
    let path = request.settings.path.as_deref().ok_or(WeatherError::NoPath)?;
    let body =
        read(path).map_err(|problem| WeatherError::File { path: path.to_owned(), problem })?;
    recognize::parse_file(&body, request.now)
        .map_err(|problem| WeatherError::FileContent { path: path.to_owned(), problem })
}

fn read(path: &Path) -> Result<Vec<u8>, String> {
    let said = |error: std::io::Error| error.to_string();
    // A pipe or a device may never end, and a pipe not even begin.
    if !fs::metadata(path).map_err(said)?.is_file() {
        return Err("it is not a regular file".to_owned());
    }
    let mut body = Vec::new();
    let file = fs::File::open(path).map_err(said)?;
    file.take(LIMIT + 1).read_to_end(&mut body).map_err(said)?;
    if u64::try_from(body.len()).is_ok_and(|length| length > LIMIT) {
        return Err(format!("it is larger than {} MB; a forecast is not", LIMIT >> 20));
    }
    Ok(body)
}
