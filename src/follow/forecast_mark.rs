//! Telling one forecast from the next.

use sha2::{Digest, Sha256};

use crate::weather::Forecast;

/// Stands for what a forecast says and when it was issued. A reply that the service only confirms,
/// or that is read from the cache again, has the mark of the first.
pub fn forecast_mark(forecast: &Forecast) -> String {
    let mut hash = Sha256::new();
    hash.update(format!("{:?}", forecast.provenance.issued_at));
    for hour in forecast.hours() {
        hash.update(format!("{hour:?}"));
    }
    hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}
