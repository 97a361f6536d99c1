//! A forecast as JSON, so that a follower that is started again has the hours that are over. Units
//! stand in the keys.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use crate::units::{RainDepth, Temperature, WindSpeed, instant};
use crate::weather::{Forecast, Hour, HourSum, Provenance};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ForecastWire {
    source: String,
    #[serde(default, deserialize_with = "instant::read_some")]
    issued_at: Option<DateTime<Utc>>,
    #[serde(deserialize_with = "instant::read")]
    fetched_at: DateTime<Utc>,
    stale: bool,
    attribution: String,
    time_zone: Option<String>,
    hours: Vec<HourWire>,
    /// Air of each member of an ensemble, °C.
    members: Vec<MemberWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(transparent)]
struct MemberWire(#[serde(deserialize_with = "instant::read_pairs")] Vec<(DateTime<Utc>, f64)>);

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HourWire {
    #[serde(deserialize_with = "instant::read")]
    time: DateTime<Utc>,
    air_c: Option<f64>,
    dew_point_c: Option<f64>,
    humidity_pct: Option<f64>,
    wind_m_per_s: Option<f64>,
    cloud_cover_pct: Option<f64>,
    surface_pressure_hpa: Option<f64>,
    sea_level_pressure_hpa: Option<f64>,
    rain: Option<SumWire>,
    snow: Option<SumWire>,
    gust_m_per_s: Option<f64>,
    shortwave_w_m2: Option<f64>,
    precipitation_probability_pct: Option<f64>,
    thunder_probability_pct: Option<f64>,
    thunder_named: Option<bool>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SumWire {
    share_mm: f64,
    total_mm: f64,
    over_hours: u32,
}

impl ForecastWire {
    pub(super) fn of(forecast: &Forecast) -> Self {
        let from = &forecast.provenance;
        let member = |member: usize| {
            let air = |hour: &Hour| {
                Some((hour.time, forecast.member_air_at(member, hour.time)?.celsius()))
            };
            MemberWire(forecast.hours().iter().filter_map(air).collect())
        };
        Self {
            source: from.source.clone(),
            issued_at: from.issued_at,
            fetched_at: from.fetched_at,
            stale: from.stale,
            attribution: from.attribution.clone(),
            time_zone: from.time_zone.map(|zone| zone.name().to_owned()),
            hours: forecast.hours().iter().map(HourWire::of).collect(),
            members: (0..forecast.members()).map(member).collect(),
        }
    }

    pub(super) fn read(self) -> Result<Forecast, String> {
        let time_zone = self.time_zone.map(|name| {
            name.parse().map_err(|_| format!("`time_zone` is {name:?}, expected an IANA time zone"))
        });
        let provenance = Provenance {
            source: self.source,
            issued_at: self.issued_at,
            fetched_at: self.fetched_at,
            stale: self.stale,
            attribution: self.attribution,
            time_zone: time_zone.transpose()?,
        };
        let hours = self.hours.into_iter().map(HourWire::read).collect();
        let forecast = Forecast::from_hours(provenance, hours)
            .map_err(|span| format!("the hours of the forecast do not hold: {span:?}"))?;
        let member = |member: MemberWire| {
            member.0.into_iter().map(|(at, air)| (at, Temperature::from_celsius(air))).collect()
        };
        Ok(forecast.with_members(self.members.into_iter().map(member).collect::<Vec<Vec<_>>>()))
    }
}

impl HourWire {
    fn of(hour: &Hour) -> Self {
        let celsius = |value: Option<Temperature>| value.map(Temperature::celsius);
        let wind = |value: Option<WindSpeed>| value.map(WindSpeed::meters_per_second);
        let sum = |sum: Option<HourSum>| {
            sum.map(|sum| SumWire {
                share_mm: sum.share.millimeters(),
                total_mm: sum.total.millimeters(),
                over_hours: sum.over_hours,
            })
        };
        Self {
            time: hour.time,
            air_c: celsius(hour.air),
            dew_point_c: celsius(hour.dew_point),
            humidity_pct: hour.humidity_pct,
            wind_m_per_s: wind(hour.wind),
            cloud_cover_pct: hour.cloud_cover_pct,
            surface_pressure_hpa: hour.surface_pressure_hpa,
            sea_level_pressure_hpa: hour.sea_level_pressure_hpa,
            rain: sum(hour.rain),
            snow: sum(hour.snow),
            gust_m_per_s: wind(hour.gust),
            shortwave_w_m2: hour.shortwave_w_m2,
            precipitation_probability_pct: hour.precipitation_probability_pct,
            thunder_probability_pct: hour.thunder_probability_pct,
            thunder_named: hour.thunder_named,
        }
    }

    fn read(self) -> Hour {
        let celsius = |value: Option<f64>| value.map(Temperature::from_celsius);
        let wind = |value: Option<f64>| value.map(WindSpeed::from_meters_per_second);
        let sum = |sum: Option<SumWire>| {
            sum.map(|sum| HourSum {
                share: RainDepth::from_millimeters(sum.share_mm),
                total: RainDepth::from_millimeters(sum.total_mm),
                over_hours: sum.over_hours,
            })
        };
        Hour {
            time: self.time,
            air: celsius(self.air_c),
            dew_point: celsius(self.dew_point_c),
            humidity_pct: self.humidity_pct,
            wind: wind(self.wind_m_per_s),
            cloud_cover_pct: self.cloud_cover_pct,
            surface_pressure_hpa: self.surface_pressure_hpa,
            sea_level_pressure_hpa: self.sea_level_pressure_hpa,
            rain: sum(self.rain),
            snow: sum(self.snow),
            gust: wind(self.gust_m_per_s),
            shortwave_w_m2: self.shortwave_w_m2,
            precipitation_probability_pct: self.precipitation_probability_pct,
            thunder_probability_pct: self.thunder_probability_pct,
            thunder_named: self.thunder_named,
        }
    }
}
