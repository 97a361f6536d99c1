//! A plain pass over the same bytes: what no engine can go below.

use std::hint::black_box;

use serde_json::{Value, json};

use crate::meter::Meter;
use crate::real::Real;
use crate::{Wanted, hours_of, resample, years};

/// Adds up every column of every hour.
pub(crate) fn floor(real: &Real, wanted: &Wanted) -> Value {
    let (mut site_hours, mut seconds, mut sum) = (0, 0.0, 0.0);
    for number in 0..wanted.sites {
        for year in years(wanted.years) {
            let weather = resample::year(real, number, year).forecast();
            let meter = Meter::start();
            for hour in weather.hours() {
                sum += [
                    hour.air.map(|air| air.celsius()),
                    hour.dew_point.map(|dew_point| dew_point.celsius()),
                    hour.wind.map(|wind| wind.meters_per_second()),
                    hour.gust.map(|gust| gust.meters_per_second()),
                    hour.cloud_cover_pct,
                    hour.sea_level_pressure_hpa,
                    hour.rain.map(|rain| rain.share.millimeters()),
                ]
                .into_iter()
                .flatten()
                .sum::<f64>();
            }
            sum = black_box(sum);
            seconds += meter.seconds();
            site_hours += hours_of(year);
        }
    }
    json!({
        "site_hours": site_hours,
        "cpu_s": seconds,
        "site_hours_per_s_and_core": site_hours as f64 / seconds,
        "sum": sum,
    })
}
