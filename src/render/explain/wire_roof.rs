//! The shape of an explanation's JSON: forecast, sun, sky, sheet, water and people.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::render::json::Figure;

/// The forecast at this minute.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Weather {
    /// Start of the source's row for this hour.
    pub row: String,
    /// Air temperature.
    pub air: Reading,
    /// Dew point.
    pub dew_point: Reading,
    /// Relative humidity.
    pub humidity: Reading,
    /// Mean wind, 10 m above ground.
    pub wind: Reading,
    /// Share of the sky under cloud.
    pub cloud_cover: Reading,
    /// Air pressure at the roof.
    pub pressure: Reading,
    /// Strongest gust of the hour.
    pub gust: Option<Figure>,
    /// Rain and melted snow of the hour.
    pub rain: Option<HourSum>,
    /// Fresh snow of the hour.
    pub snow: Option<HourSum>,
    /// Chance of precipitation in the hour.
    pub precipitation_probability: Option<Figure>,
    /// Chance of thunder in the hour.
    pub thunder_probability: Option<Figure>,
    /// Whether the source's own word for the hour names thunder.
    pub thunder_named: Option<bool>,
    /// Where this is explained.
    pub see: String,
}

/// A value that holds at an instant, and how it came about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Reading {
    /// The value.
    pub value: Option<Figure>,
    /// How it came about.
    pub origin: Origin,
    /// The source's two values that it lies between.
    pub between: Option<[TimedValue; 2]>,
    /// What it is derived from.
    pub derived: Option<String>,
}

/// How a value came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// The source's own value for this minute.
    Told,
    /// On the straight line between the source's values for two hours.
    Interpolated,
    /// The same over one missing hour.
    Bridged,
    /// Worked out, since the source does not tell it.
    Derived,
    /// It is not known.
    Unknown,
}

/// A value of the source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TimedValue {
    /// Its hour.
    pub time: String,
    /// The value.
    pub value: Option<Figure>,
}

/// What falls within an hour.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HourSum {
    /// The hour's even share of `total`.
    pub share: Option<Figure>,
    /// As the source states it.
    pub total: Option<Figure>,
    /// Hours that the total covers.
    pub over_hours: u32,
}

/// The sun and its radiation on the level roof.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Sun {
    /// Of the sun's center, without refraction.
    pub elevation: Option<Figure>,
    /// True solar time in hours, 0 to 24.
    pub solar_hour: Option<Figure>,
    /// Of a clear sky at this minute.
    pub clear_sky: Option<Figure>,
    /// Mean of a clear sky over the hour.
    pub clear_sky_mean: Option<Figure>,
    /// The source's mean of the hour.
    pub source_mean: Option<Figure>,
    /// Share of a clear sky's radiation that this cloud lets through, 0 to 1.
    pub cloud_passes: Option<Figure>,
    /// What the roof gets.
    pub radiation: Option<Figure>,
    /// Which of the above that comes from.
    pub radiation_from: Option<RadiationFrom>,
    /// Where the sun's place is explained.
    pub see: String,
    /// Where the radiation is explained.
    pub see_radiation: String,
}

/// Where the radiation comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RadiationFrom {
    /// The source's mean of the hour, in the shape of the clear sky.
    Source,
    /// A clear sky, dimmed by the cloud cover.
    ClearSkyAndCloud,
    /// The sun is below the horizon.
    Night,
}

/// How the sky radiates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Sky {
    /// Without its cloud, 0 to 1.
    pub clear_emissivity: Option<Figure>,
    /// With its cloud, 0 to 1.
    pub emissivity: Option<Figure>,
    /// Temperature at which it radiates.
    pub temperature: Option<Figure>,
    /// Where this is explained.
    pub see: String,
}

/// The sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Sheet {
    /// How it takes up sun and sheds heat.
    pub optics: Option<Optics>,
    /// Heat transfer to the air.
    pub convection: Option<Range>,
    /// Temperature of the dry sheet.
    pub temperature: Option<Range>,
    /// Where dew or frost begins to settle.
    pub condensation_point: Option<Figure>,
    /// As what.
    pub condenses_as: Option<Condensate>,
    /// Sheet less that: a difference.
    pub dew_margin: Option<Figure>,
    /// Where the sheet temperature is explained.
    pub see: String,
    /// Where dew and frost are explained.
    pub see_humidity: String,
}

/// The sheet's optical numbers, 0 to 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Optics {
    /// Its color.
    pub color: String,
    /// Weathered rather than new.
    pub aged: bool,
    /// Share of the sun thrown back.
    pub solar_reflectance: Option<Figure>,
    /// Where that comes from.
    pub solar_reflectance_from: OpticsFrom,
    /// Heat shed by radiation against a perfect radiator.
    pub thermal_emittance: Option<Figure>,
    /// Where that comes from.
    pub thermal_emittance_from: OpticsFrom,
    /// Where this is explained.
    pub see: String,
}

/// Where an optical number comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OpticsFrom {
    /// The site file gives it.
    Given,
    /// It is the color's.
    Preset,
}

/// What settles on a cold sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Condensate {
    /// Dew.
    Dew,
    /// Frost.
    Frost,
}

/// A value with the range that it is known to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Range {
    /// The lowest.
    pub low: Option<Figure>,
    /// The one to plan with.
    pub nominal: Option<Figure>,
    /// The highest.
    pub high: Option<Figure>,
}

/// Water on the sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Water {
    /// Water, dew or ice on it.
    pub film: Option<Figure>,
    /// Most that the sheet holds.
    pub holds: Option<Figure>,
    /// What the air takes from a wet sheet; negative where dew or frost settles.
    pub evaporation: Option<Figure>,
    /// It is frozen.
    pub frost: Option<bool>,
    /// End of the step of the film's run that these are of.
    pub as_of: Option<String>,
    /// Where this is explained.
    pub see: String,
}

/// What people feel.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct People {
    /// Heat index.
    pub heat_index: Option<Figure>,
    /// Wind chill; `null` too where it is not defined.
    pub wind_chill: Option<Figure>,
    /// Where this is explained.
    pub see: String,
}
