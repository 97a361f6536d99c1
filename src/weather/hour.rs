//! One hour of weather: what is known of it, and under which names.

use chrono::{DateTime, Utc};

use crate::units::{RainDepth, Temperature, WindSpeed};

/// The weather of one UTC hour, `[time, time + 1 h)`. `None` is unknown, never zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// Start of the hour.
    pub time: DateTime<Utc>,
    // Instants: what holds at `time` itself.
    /// Air temperature, 2 m above ground.
    pub air: Option<Temperature>,
    /// Dew point, 2 m above ground.
    pub dew_point: Option<Temperature>,
    /// Relative humidity, 0 to 100 %.
    pub humidity_pct: Option<f64>,
    /// Mean wind, 10 m above ground.
    pub wind: Option<WindSpeed>,
    /// Share of the sky under cloud, 0 to 100 %.
    pub cloud_cover_pct: Option<f64>,
    /// Air pressure at the ground, hPa.
    pub surface_pressure_hpa: Option<f64>,
    /// Air pressure reduced to sea level, hPa.
    pub sea_level_pressure_hpa: Option<f64>,
    // Of the hour: what falls, blows or shines between `time` and `time + 1 h`.
    /// Precipitation as water: rain, showers and melted snow.
    pub rain: Option<HourSum>,
    /// Depth of fresh snow.
    pub snow: Option<HourSum>,
    /// Strongest gust of the hour.
    pub gust: Option<WindSpeed>,
    /// Shortwave radiation on the level, mean of the hour, W/m².
    pub shortwave_w_m2: Option<f64>,
    /// Chance of precipitation, 0 to 100 %.
    pub precipitation_probability_pct: Option<f64>,
    /// Chance of thunder, 0 to 100 %.
    pub thunder_probability_pct: Option<f64>,
    /// Whether the source's own weather word or code for the hour names thunder.
    pub thunder_named: Option<bool>,
}

/// An hour's share of a total that the source gives for one hour or for several together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourSum {
    /// This hour's even share of `total`.
    pub share: RainDepth,
    /// The total as the source states it.
    pub total: RainDepth,
    /// Hours that the total covers; 1 where the source is hourly.
    pub over_hours: u32,
}

/// A kind of value in an hour, by the name that the plan's JSON uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Field {
    /// Air temperature.
    Air,
    /// Dew point.
    DewPoint,
    /// Relative humidity.
    Humidity,
    /// Mean wind.
    Wind,
    /// Gust.
    Gust,
    /// Rain and melted snow.
    Rain,
    /// Fresh snow.
    Snow,
    /// Cloud cover.
    CloudCover,
    /// Shortwave radiation.
    Shortwave,
    /// Chance of precipitation.
    PrecipitationProbability,
    /// Thunder, by chance or by name.
    Thunder,
    /// Air pressure, at the ground or at sea level.
    Pressure,
}

impl Hour {
    /// An hour of which nothing is known.
    pub const fn unknown(time: DateTime<Utc>) -> Self {
        Self {
            time,
            air: None,
            dew_point: None,
            humidity_pct: None,
            wind: None,
            cloud_cover_pct: None,
            surface_pressure_hpa: None,
            sea_level_pressure_hpa: None,
            rain: None,
            snow: None,
            gust: None,
            shortwave_w_m2: None,
            precipitation_probability_pct: None,
            thunder_probability_pct: None,
            thunder_named: None,
        }
    }

    /// Whether `field` has a value in this hour.
    pub const fn has(&self, field: Field) -> bool {
        match field {
            Field::Air => self.air.is_some(),
            Field::DewPoint => self.dew_point.is_some(),
            Field::Humidity => self.humidity_pct.is_some(),
            Field::Wind => self.wind.is_some(),
            Field::Gust => self.gust.is_some(),
            Field::Rain => self.rain.is_some(),
            Field::Snow => self.snow.is_some(),
            Field::CloudCover => self.cloud_cover_pct.is_some(),
            Field::Shortwave => self.shortwave_w_m2.is_some(),
            Field::PrecipitationProbability => self.precipitation_probability_pct.is_some(),
            Field::Thunder => {
                self.thunder_probability_pct.is_some() || self.thunder_named.is_some()
            }
            Field::Pressure => {
                self.surface_pressure_hpa.is_some() || self.sea_level_pressure_hpa.is_some()
            }
        }
    }

    /// Takes over from `other` what this hour does not know.
    pub(super) fn fill_from(&mut self, other: &Self) {
        self.air = self.air.or(other.air);
        self.dew_point = self.dew_point.or(other.dew_point);
        self.humidity_pct = self.humidity_pct.or(other.humidity_pct);
        self.wind = self.wind.or(other.wind);
        self.cloud_cover_pct = self.cloud_cover_pct.or(other.cloud_cover_pct);
        self.surface_pressure_hpa = self.surface_pressure_hpa.or(other.surface_pressure_hpa);
        self.sea_level_pressure_hpa = self.sea_level_pressure_hpa.or(other.sea_level_pressure_hpa);
        self.rain = self.rain.or(other.rain);
        self.snow = self.snow.or(other.snow);
        self.gust = self.gust.or(other.gust);
        self.shortwave_w_m2 = self.shortwave_w_m2.or(other.shortwave_w_m2);
        self.precipitation_probability_pct =
            self.precipitation_probability_pct.or(other.precipitation_probability_pct);
        self.thunder_probability_pct =
            self.thunder_probability_pct.or(other.thunder_probability_pct);
        self.thunder_named = self.thunder_named.or(other.thunder_named);
    }
}

impl HourSum {
    /// A sum that the source gives for this one hour.
    pub const fn of_one_hour(amount: RainDepth) -> Self {
        Self { share: amount, total: amount, over_hours: 1 }
    }

    /// This hour's even share of a total over `hours` hours (at least one).
    pub fn share_of(total: RainDepth, hours: u32) -> Self {
        let over_hours = hours.max(1);
        let share = RainDepth::from_millimeters(total.millimeters() / f64::from(over_hours));
        Self { share, total, over_hours }
    }
}

impl Field {
    /// Every kind, in the order in which outputs list them.
    pub const ALL: [Self; 12] = [
        Self::Air,
        Self::DewPoint,
        Self::Humidity,
        Self::Wind,
        Self::Gust,
        Self::Rain,
        Self::Snow,
        Self::CloudCover,
        Self::Shortwave,
        Self::PrecipitationProbability,
        Self::Thunder,
        Self::Pressure,
    ];

    /// The name in the plan's JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Air => "air",
            Self::DewPoint => "dew_point",
            Self::Humidity => "humidity",
            Self::Wind => "wind",
            Self::Gust => "gust",
            Self::Rain => "rain",
            Self::Snow => "snow",
            Self::CloudCover => "cloud_cover",
            Self::Shortwave => "shortwave_radiation",
            Self::PrecipitationProbability => "precipitation_probability",
            Self::Thunder => "thunder",
            Self::Pressure => "pressure",
        }
    }
}
