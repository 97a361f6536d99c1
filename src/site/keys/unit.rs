//! The unit behind a number of the site file, and the range that is allowed.

use crate::units::UnitSystem;

/// What a number of the site file counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Degrees of latitude or longitude.
    Degrees,
    /// °F or °C.
    Temperature,
    /// A difference of temperatures, in steps of 1 °F or 1 °C.
    TemperatureDifference,
    /// ft/min or m/min.
    TravelSpeed,
    /// mph or m/s.
    Wind,
    /// Depth of rain or of fresh snow, in or mm.
    Depth,
    /// mil or mm.
    Thickness,
    /// ft or m.
    Length,
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// Days.
    Days,
    /// Watts.
    Watts,
    /// Volts.
    Volts,
    /// mm², in either unit system.
    SquareMillimeters,
    /// American wire gauge.
    Awg,
    /// A share of one.
    Share,
    /// A share of a hundred.
    Percent,
    /// People.
    People,
    /// Forecasts, one after another.
    Forecasts,
    /// Money, in whatever currency the reader counts.
    Money,
}

/// The range of a number, both ends allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    /// On a site of US units.
    pub us: (f64, f64),
    /// On a metric site.
    pub metric: (f64, f64),
}

impl Unit {
    /// The sign behind the number; empty where there is none.
    pub const fn sign(self, units: UnitSystem) -> &'static str {
        match self {
            Self::Degrees => "°",
            Self::Temperature | Self::TemperatureDifference => units.temperature(),
            Self::TravelSpeed => units.travel_speed(),
            Self::Wind => units.wind(),
            Self::Depth => units.rain(),
            Self::Thickness => units.thickness(),
            Self::Length => units.length(),
            Self::Minutes => "min",
            Self::Hours => "h",
            Self::Days => "days",
            Self::Watts => "W",
            Self::Volts => "V",
            Self::SquareMillimeters => "mm²",
            Self::Awg => "AWG",
            Self::Share | Self::Money => "",
            Self::Percent => "%",
            Self::People => "people",
            Self::Forecasts => "forecasts",
        }
    }

    /// Whether the two unit systems read the same number differently.
    pub fn differs(self) -> bool {
        self.sign(UnitSystem::Us) != self.sign(UnitSystem::Metric)
    }

    /// The number with its unit.
    pub fn show(self, number: f64, units: UnitSystem) -> String {
        match self {
            Self::Share | Self::Money => number.to_string(),
            Self::Degrees => format!("{number}°"),
            _ => format!("{number} {}", self.sign(units)),
        }
    }

    /// The number with its unit, said in a way that leaves a difference a difference.
    pub fn say(self, number: f64, units: UnitSystem) -> String {
        let shown = self.show(number, units);
        if self == Self::TemperatureDifference { format!("{shown} apart") } else { shown }
    }

    /// How a sentence asks for a number of this unit.
    pub fn asked_for(self, units: UnitSystem) -> String {
        match self {
            Self::Share | Self::Money => "a number".to_owned(),
            Self::People => "a number of people".to_owned(),
            Self::Forecasts => "a number of forecasts".to_owned(),
            Self::Degrees => "a number of degrees".to_owned(),
            Self::Minutes => "a number of minutes".to_owned(),
            Self::Hours => "a number of hours".to_owned(),
            Self::Days => "a number of days".to_owned(),
            // `in` behind `in` would read as a slip.
            Self::Depth if matches!(units, UnitSystem::Us) => "a number of inches".to_owned(),
            Self::TemperatureDifference => {
                format!("a temperature difference in {}", self.sign(units))
            }
            _ => format!("a number in {}", self.sign(units)),
        }
    }
}

impl Allowed {
    /// The same range in either unit system.
    pub const fn same(low: f64, high: f64) -> Self {
        Self { us: (low, high), metric: (low, high) }
    }

    /// The range on a site of these units.
    pub const fn range(self, units: UnitSystem) -> (f64, f64) {
        match units {
            UnitSystem::Us => self.us,
            UnitSystem::Metric => self.metric,
        }
    }

    /// Whether a number lies in it; NaN does not.
    pub fn holds(self, number: f64, units: UnitSystem) -> bool {
        let (low, high) = self.range(units);
        (low..=high).contains(&number)
    }
}
