//! From a source's number and unit to one unit, within the range that weather has.

use chrono::{DateTime, Utc};

use super::ParseError;
use crate::units::{RainDepth, Temperature, WindSpeed};

/// A kind of value: which units it may come in and how far it may go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// °C.
    Air,
    /// °C.
    DewPoint,
    /// m/s.
    Wind,
    /// mm of water in one hour.
    RainOfAnHour,
    /// mm of water in several hours.
    RainTotal,
    /// mm of fresh snow.
    Snow,
    /// %.
    Percent,
    /// hPa at the ground.
    SurfacePressure,
    /// hPa reduced to sea level.
    SeaLevelPressure,
    /// W/m², mean of an hour.
    Shortwave,
}

/// A unit that is understood, and what it takes to leave it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Celsius,
    Fahrenheit,
    Kelvin,
    MetersPerSecond,
    KilometersPerHour,
    MilesPerHour,
    Knots,
    Millimeters,
    Centimeters,
    Inches,
    Percent,
    Hectopascals,
    Kilopascals,
    Pascals,
    WattsPerSquareMeter,
}

/// One array or layer of a source: the numbers of one kind in one unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Channel {
    kind: Kind,
    unit: Unit,
    field: String,
    unit_text: String,
}

impl Channel {
    /// For `field` in the unit that the source writes as `unit_text`.
    ///
    /// # Errors
    /// [`ParseError::UnknownUnit`] when the unit is none of those that `kind` comes in.
    pub(crate) fn new(kind: Kind, field: &str, unit_text: &str) -> Result<Self, ParseError> {
        let unit = Unit::named(kind, unit_text).ok_or_else(|| ParseError::UnknownUnit {
            field: super::json::quote(field),
            unit: super::json::quote(unit_text),
            known: kind.known_units(),
        })?;
        Ok(Self { kind, unit, field: field.to_owned(), unit_text: unit_text.to_owned() })
    }

    /// `value` in the unit of the kind; a missing value stays missing.
    ///
    /// # Errors
    /// [`ParseError::Implausible`] when no weather has that value.
    pub(crate) fn read(
        &self,
        value: Option<f64>,
        at: DateTime<Utc>,
    ) -> Result<Option<f64>, ParseError> {
        let Some(value) = value.filter(|value| !value.is_nan()) else { return Ok(None) };
        let converted = self.unit.convert(value);
        let (low, high, tolerance) = self.kind.range();
        if converted < low - tolerance || converted > high + tolerance {
            return Err(ParseError::Implausible {
                field: super::json::quote(&self.field),
                got: format!("{} {}", shown(value), self.unit_text),
                at,
                allowed: self.kind.allowed(),
            });
        }
        Ok(Some(if tolerance > 0.0 { converted.clamp(low, high) } else { converted }))
    }

    /// As [`Channel::read`], for a temperature.
    pub(crate) fn temperature(
        &self,
        value: Option<f64>,
        at: DateTime<Utc>,
    ) -> Result<Option<Temperature>, ParseError> {
        Ok(self.read(value, at)?.map(Temperature::from_celsius))
    }

    /// As [`Channel::read`], for wind or gust.
    pub(crate) fn wind(
        &self,
        value: Option<f64>,
        at: DateTime<Utc>,
    ) -> Result<Option<WindSpeed>, ParseError> {
        Ok(self.read(value, at)?.map(WindSpeed::from_meters_per_second))
    }

    /// As [`Channel::read`], for rain or snow.
    pub(crate) fn depth(
        &self,
        value: Option<f64>,
        at: DateTime<Utc>,
    ) -> Result<Option<RainDepth>, ParseError> {
        Ok(self.read(value, at)?.map(RainDepth::from_millimeters))
    }
}

impl Kind {
    /// Lowest and highest value, and how far beyond them a rounded number may lie before it is an
    /// error; up to there it counts as the limit.
    ///
    /// The limits lie a little beyond what was ever measured: air of -89.2 and 56.7 °C, 305 mm of
    /// rain within an hour and 1825 mm within a day, a gust of 113 m/s.
    /// Source: WMOExtremes, from memory; only the size matters here.
    const fn range(self) -> (f64, f64, f64) {
        match self {
            Self::Air => (-90.0, 60.0, 0.0),
            Self::DewPoint => (-110.0, 60.0, 0.0),
            Self::Wind => (0.0, 150.0, 0.0),
            Self::RainOfAnHour => (0.0, 500.0, 0.0),
            Self::RainTotal => (0.0, 2000.0, 0.0),
            Self::Snow => (0.0, 3000.0, 0.0),
            Self::Percent => (0.0, 100.0, 1.0),
            Self::SurfacePressure => (300.0, 1100.0, 0.0),
            Self::SeaLevelPressure => (850.0, 1100.0, 0.0),
            Self::Shortwave => (0.0, 1500.0, 2.0),
        }
    }

    const fn allowed(self) -> &'static str {
        match self {
            Self::Air => "-90 to 60 °C",
            Self::DewPoint => "-110 to 60 °C",
            Self::Wind => "0 to 150 m/s",
            Self::RainOfAnHour => "0 to 500 mm in an hour",
            Self::RainTotal => "0 to 2000 mm",
            Self::Snow => "0 to 3000 mm",
            Self::Percent => "0 to 100 %",
            Self::SurfacePressure => "300 to 1100 hPa",
            Self::SeaLevelPressure => "850 to 1100 hPa",
            Self::Shortwave => "0 to 1500 W/m²",
        }
    }

    const fn known_units(self) -> &'static str {
        match self {
            Self::Air | Self::DewPoint => "°C, °F, K",
            Self::Wind => "m/s, km/h, mp/h, kn",
            Self::RainOfAnHour | Self::RainTotal | Self::Snow => "mm, cm, inch",
            Self::Percent => "%",
            Self::SurfacePressure | Self::SeaLevelPressure => "hPa, kPa, Pa",
            Self::Shortwave => "W/m²",
        }
    }
}

impl Unit {
    /// The unit that a source means by `text`, of those that `kind` comes in. A namespace before
    /// the last colon (`wmoUnit:degC`) says nothing and is left out.
    fn named(kind: Kind, text: &str) -> Option<Self> {
        let name = text.rsplit(':').next().unwrap_or(text).trim();
        match kind {
            Kind::Air | Kind::DewPoint => match name {
                "°C" | "degC" | "celsius" | "C" => Some(Self::Celsius),
                "°F" | "degF" | "fahrenheit" | "F" => Some(Self::Fahrenheit),
                "K" | "kelvin" => Some(Self::Kelvin),
                _ => None,
            },
            Kind::Wind => match name {
                "m/s" | "m_s-1" | "ms" => Some(Self::MetersPerSecond),
                "km/h" | "km_h-1" | "kmh" => Some(Self::KilometersPerHour),
                "mp/h" | "mph" => Some(Self::MilesPerHour),
                "kn" | "kt" => Some(Self::Knots),
                _ => None,
            },
            Kind::RainOfAnHour | Kind::RainTotal | Kind::Snow => match name {
                "mm" => Some(Self::Millimeters),
                "mm/hour" if kind == Kind::RainOfAnHour => Some(Self::Millimeters),
                "cm" => Some(Self::Centimeters),
                "inch" | "in" => Some(Self::Inches),
                _ => None,
            },
            Kind::Percent => match name {
                "%" | "percent" => Some(Self::Percent),
                _ => None,
            },
            Kind::SurfacePressure | Kind::SeaLevelPressure => match name {
                "hPa" => Some(Self::Hectopascals),
                "kPa" => Some(Self::Kilopascals),
                "Pa" => Some(Self::Pascals),
                _ => None,
            },
            Kind::Shortwave => match name {
                // The energy of one hour is the mean power in it.
                "W/m²" | "W/m2" | "W/m^2" | "W m-2" | "Wh/m^2" | "Wh/m2" => {
                    Some(Self::WattsPerSquareMeter)
                }
                _ => None,
            },
        }
    }

    fn convert(self, value: f64) -> f64 {
        match self {
            Self::Celsius
            | Self::MetersPerSecond
            | Self::Millimeters
            | Self::Percent
            | Self::Hectopascals
            | Self::WattsPerSquareMeter => value,
            Self::Fahrenheit => Temperature::from_fahrenheit(value).celsius(),
            Self::Kelvin => Temperature::from_kelvin(value).celsius(),
            Self::KilometersPerHour => {
                WindSpeed::from_kilometers_per_hour(value).meters_per_second()
            }
            Self::MilesPerHour => WindSpeed::from_miles_per_hour(value).meters_per_second(),
            Self::Knots => WindSpeed::from_knots(value).meters_per_second(),
            Self::Centimeters => value * 10.0,
            Self::Inches => RainDepth::from_inches(value).millimeters(),
            Self::Kilopascals => value * 10.0,
            Self::Pascals => value / 100.0,
        }
    }
}

/// A number as a person writes it: 1e308 is not three hundred digits.
fn shown(value: f64) -> String {
    if value.abs() >= 1e9 { format!("{value:e}") } else { value.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(kind: Kind, unit: &str, value: f64) -> Result<Option<f64>, ParseError> {
        Channel::new(kind, "field", unit)?.read(Some(value), DateTime::UNIX_EPOCH)
    }

    #[test]
    fn every_unit_leaves_by_its_defined_factor() {
        // NIST811, appendix B.8 and B.9: exact factors, worked by hand.
        for (kind, unit, value, expected) in [
            (Kind::Air, "°F", 50.0, 10.0),
            (Kind::Air, "wmoUnit:degC", 10.0, 10.0),
            (Kind::DewPoint, "K", 273.15, 0.0),
            (Kind::SurfacePressure, "kPa", 99.5, 995.0),
            (Kind::Wind, "wmoUnit:km_h-1", 36.0, 10.0),
            (Kind::Wind, "mp/h", 100.0, 44.704),
            (Kind::Wind, "kn", 36.0, 18.52),
            (Kind::Snow, "cm", 7.0, 70.0),
            (Kind::RainOfAnHour, "inch", 1.0, 25.4),
            (Kind::SurfacePressure, "Pa", 101_325.0, 1013.25),
        ] {
            let got = read(kind, unit, value).unwrap().unwrap();
            assert!((got - expected).abs() < 1e-9, "{value} {unit} gave {got}, not {expected}");
        }
    }

    #[test]
    fn a_unit_of_another_kind_is_unknown() {
        let error = read(Kind::Air, "furlong", 1.0).unwrap_err().to_string();
        assert_eq!(error, "`field` is in the unit \"furlong\"; expected one of °C, °F, K");
        assert!(read(Kind::Wind, "°C", 1.0).is_err());
    }

    #[test]
    fn what_no_weather_has_is_an_error_and_a_rounding_is_not() {
        let error = read(Kind::Air, "°F", 1e308).unwrap_err().to_string();
        assert_eq!(error, "`field` is 1e308 °F at 1970-01-01 00:00:00 UTC; expected -90 to 60 °C");
        assert!(read(Kind::Air, "°C", 60.1).is_err());
        assert!(read(Kind::Wind, "m/s", -0.1).is_err());
        assert!(read(Kind::RainOfAnHour, "mm", -0.1).is_err());
        assert!(read(Kind::Percent, "%", 101.5).is_err());
        assert_eq!(read(Kind::Percent, "%", 100.4), Ok(Some(100.0)));
        assert_eq!(read(Kind::Air, "°C", f64::NAN), Ok(None));
        assert!(read(Kind::Air, "°C", f64::INFINITY).is_err());
    }
}
