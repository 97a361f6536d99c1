//! A kept plan as JSON: the text that its chain seals. Units stand in the keys.

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};

use crate::plan::Verdict;
use crate::quality::{KeptBreak, KeptCheckpoint, KeptHour, KeptPlan, KeptWeather};
use crate::units::{RainDepth, Temperature, WindSpeed, instant};

/// Version of the payload that this program writes and reads.
const FORMAT: u32 = 1;

#[derive(Deserialize)]
struct Versioned {
    format: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PlanWire {
    format: u32,
    #[serde(deserialize_with = "instant::read")]
    made_at: DateTime<Utc>,
    #[serde(deserialize_with = "instant::read_date")]
    date: NaiveDate,
    time_zone: String,
    latitude_deg: f64,
    longitude_deg: f64,
    #[serde(deserialize_with = "instant::read")]
    shift_start: DateTime<Utc>,
    #[serde(deserialize_with = "instant::read")]
    shift_end: DateTime<Utc>,
    breaks: Vec<BreakWire>,
    weather: WeatherWire,
    air_min_c: f64,
    air_max_c: f64,
    #[serde(deserialize_with = "instant::read_pairs")]
    air: Vec<(DateTime<Utc>, Option<f64>)>,
    hours: Vec<HourWire>,
    checkpoints: Vec<CheckpointWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct BreakWire {
    name: String,
    #[serde(deserialize_with = "instant::read")]
    start: DateTime<Utc>,
    #[serde(deserialize_with = "instant::read")]
    end: DateTime<Utc>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WeatherWire {
    source: String,
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "instant::read_some"
    )]
    issued_at: Option<DateTime<Utc>>,
    #[serde(deserialize_with = "instant::read")]
    fetched_at: DateTime<Utc>,
    stale: bool,
    attribution: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HourWire {
    #[serde(deserialize_with = "instant::read")]
    time: DateTime<Utc>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    air_c: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity_pct: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wind_m_per_s: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    gust_m_per_s: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rain_mm: Option<f64>,
    verdict: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CheckpointWire {
    id: String,
    #[serde(deserialize_with = "instant::read")]
    time: DateTime<Utc>,
    cause: String,
    because: String,
    air_c: f64,
    minutes: u32,
    welders: Vec<String>,
}

/// The payload of `plan`, on one line. Numbers must be finite: JSON has no others.
pub(super) fn write(plan: &KeptPlan) -> Result<String, serde_json::Error> {
    let weather = &plan.weather;
    serde_json::to_string(&PlanWire {
        format: FORMAT,
        made_at: plan.made_at,
        date: plan.date,
        time_zone: plan.time_zone.name().to_owned(),
        latitude_deg: plan.latitude_deg,
        longitude_deg: plan.longitude_deg,
        shift_start: plan.shift_start,
        shift_end: plan.shift_end,
        breaks: plan
            .breaks
            .iter()
            .map(|stop| BreakWire { name: stop.name.clone(), start: stop.start, end: stop.end })
            .collect(),
        weather: WeatherWire {
            source: weather.source.clone(),
            issued_at: weather.issued_at,
            fetched_at: weather.fetched_at,
            stale: weather.stale,
            attribution: weather.attribution.clone(),
        },
        air_min_c: plan.air_range.0.celsius(),
        air_max_c: plan.air_range.1.celsius(),
        air: plan.air.iter().map(|(at, air)| (*at, air.map(Temperature::celsius))).collect(),
        hours: plan.hours.iter().map(hour_wire).collect(),
        checkpoints: plan.checkpoints.iter().map(checkpoint_wire).collect(),
    })
}

/// The plan that a payload holds, or what is wrong with it.
pub(super) fn read(text: &str) -> Result<KeptPlan, String> {
    let wrong = |error: serde_json::Error| error.to_string();
    let Versioned { format } = serde_json::from_str(text).map_err(wrong)?;
    if format != FORMAT {
        return Err(format!(
            "its format is {format}, and this fairseam reads {FORMAT}: use the newest fairseam"
        ));
    }
    let wire: PlanWire = serde_json::from_str(text).map_err(wrong)?;
    let time_zone: Tz = wire
        .time_zone
        .parse()
        .map_err(|_| format!("`time_zone` is {:?}, expected an IANA time zone", wire.time_zone))?;
    let celsius = Temperature::from_celsius;
    Ok(KeptPlan {
        made_at: wire.made_at,
        date: wire.date,
        time_zone,
        latitude_deg: wire.latitude_deg,
        longitude_deg: wire.longitude_deg,
        shift_start: wire.shift_start,
        shift_end: wire.shift_end,
        breaks: wire
            .breaks
            .into_iter()
            .map(|stop| KeptBreak { name: stop.name, start: stop.start, end: stop.end })
            .collect(),
        weather: KeptWeather {
            source: wire.weather.source,
            issued_at: wire.weather.issued_at,
            fetched_at: wire.weather.fetched_at,
            stale: wire.weather.stale,
            attribution: wire.weather.attribution,
        },
        air_range: (celsius(wire.air_min_c), celsius(wire.air_max_c)),
        air: wire.air.into_iter().map(|(at, air)| (at, air.map(celsius))).collect(),
        hours: wire.hours.into_iter().map(hour).collect::<Result<_, _>>()?,
        checkpoints: wire.checkpoints.into_iter().map(checkpoint).collect(),
    })
}

fn hour_wire(hour: &KeptHour) -> HourWire {
    HourWire {
        time: hour.time,
        air_c: hour.air.map(Temperature::celsius),
        humidity_pct: hour.humidity_pct,
        wind_m_per_s: hour.wind.map(WindSpeed::meters_per_second),
        gust_m_per_s: hour.gust.map(WindSpeed::meters_per_second),
        rain_mm: hour.rain.map(RainDepth::millimeters),
        verdict: hour.verdict.name().to_owned(),
    }
}

fn hour(wire: HourWire) -> Result<KeptHour, String> {
    let verdict = Verdict::ALL.into_iter().find(|verdict| verdict.name() == wire.verdict);
    let verdict = verdict.ok_or_else(|| {
        let words = Verdict::ALL.map(|verdict| format!("`{}`", verdict.name())).join(" or ");
        format!("`verdict` is {:?}, expected {words}", wire.verdict)
    })?;
    Ok(KeptHour {
        time: wire.time,
        air: wire.air_c.map(Temperature::from_celsius),
        humidity_pct: wire.humidity_pct,
        wind: wire.wind_m_per_s.map(WindSpeed::from_meters_per_second),
        gust: wire.gust_m_per_s.map(WindSpeed::from_meters_per_second),
        rain: wire.rain_mm.map(RainDepth::from_millimeters),
        verdict,
    })
}

fn checkpoint_wire(point: &KeptCheckpoint) -> CheckpointWire {
    CheckpointWire {
        id: point.id.clone(),
        time: point.time,
        cause: point.cause.clone(),
        because: point.because.clone(),
        air_c: point.air.celsius(),
        minutes: point.minutes,
        welders: point.welders.clone(),
    }
}

fn checkpoint(wire: CheckpointWire) -> KeptCheckpoint {
    KeptCheckpoint {
        id: wire.id,
        time: wire.time,
        cause: wire.cause,
        because: wire.because,
        air: Temperature::from_celsius(wire.air_c),
        minutes: wire.minutes,
        welders: wire.welders,
    }
}
