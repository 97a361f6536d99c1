//! The forecast at one minute: which rows each value comes from.

use chrono::{DateTime, TimeDelta, Utc};

use super::{Derivation, Origin, Reading, WeatherAt};
use crate::plan::roof_moment::RoofMoment;
use crate::site::Site;
use crate::units::{Temperature, WindSpeed};
use crate::weather::{Forecast, Hour, floor_hour};

/// Every value of the forecast at `moment`.
pub(super) fn weather(site: &Site, forecast: &Forecast, moment: &RoofMoment) -> WeatherAt {
    let at = moment.time;
    let celsius = Temperature::from_celsius;
    let row = forecast.hour_of(at).copied();
    let number = |field: fn(&Hour) -> Option<f64>| origin(forecast, at, field, |value| value);
    let at_sea = forecast.instant_at(at, |hour| hour.sea_level_pressure_hpa);
    // As `pressure::at_elevation_hpa` takes them; any other is no pressure.
    let sea_level_counts = at_sea.is_some_and(|hpa| {
        let elevation = crate::plan::roof::elevation_or_sea_level(site);
        crate::physics::pressure::at_elevation_hpa(hpa, elevation).is_some()
    });
    let from_pressure = if sea_level_counts {
        Derivation::SeaLevelPressure
    } else {
        Derivation::StandardAtmosphere
    };
    WeatherAt {
        row: row.unwrap_or(Hour::unknown(floor_hour(at))),
        air: reading(
            moment.air,
            origin(forecast, at, |hour| hour.air.map(Temperature::celsius), celsius),
            None,
        ),
        dew_point: reading(
            moment.dew_point,
            origin(forecast, at, |hour| hour.dew_point.map(Temperature::celsius), celsius),
            Some(Derivation::AirAndHumidity),
        ),
        humidity_pct: reading(
            moment.humidity_pct,
            number(|hour| hour.humidity_pct),
            Some(Derivation::AirAndDewPoint),
        ),
        wind: reading(
            moment.wind,
            origin(
                forecast,
                at,
                |hour| hour.wind.map(WindSpeed::meters_per_second),
                WindSpeed::from_meters_per_second,
            ),
            None,
        ),
        cloud_cover_pct: reading(moment.cloud_cover_pct, number(|hour| hour.cloud_cover_pct), None),
        surface_pressure_hpa: reading(
            moment.surface_pressure_hpa,
            number(|hour| hour.surface_pressure_hpa),
            Some(from_pressure),
        ),
    }
}

/// The value of a minute with its origin: the source's own, or else what it is derived from.
fn reading<T>(
    value: Option<T>,
    told: Option<Origin<T>>,
    derivation: Option<Derivation>,
) -> Reading<T> {
    let origin = match (&value, told, derivation) {
        (None, ..) => Origin::Unknown,
        (Some(_), Some(told), _) => told,
        (Some(_), None, Some(derivation)) => Origin::Derived(derivation),
        (Some(_), None, None) => Origin::Unknown,
    };
    Reading { value, origin }
}

/// Which of the source's values stand behind that at `at`; the same as for
/// [`Forecast::instant_at`], which bridges one missing hour. `None` where it gives none.
fn origin<T>(
    forecast: &Forecast,
    at: DateTime<Utc>,
    field: impl Fn(&Hour) -> Option<f64>,
    typed: impl Fn(f64) -> T,
) -> Option<Origin<T>> {
    let value = |start: DateTime<Utc>| {
        let told = forecast.hour_of(start).and_then(&field)?;
        Some((start, told))
    };
    let hour = floor_hour(at);
    let one = TimeDelta::hours(1);
    let here = value(hour);
    if hour == at && here.is_some() {
        return Some(Origin::Told);
    }
    let before = here.or_else(|| value(hour - one))?;
    let beyond = || value(hour + one * 2).filter(|_| here.is_some());
    let after = value(hour + one).or_else(beyond)?;
    let bridged = after.0 - before.0 > one;
    let typed = |(start, told)| (start, typed(told));
    Some(Origin::Between { before: typed(before), after: typed(after), bridged })
}
