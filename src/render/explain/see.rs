//! Where the documents explain each number.

/// A section of the documents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum See {
    /// Rows of the forecast, lines between them, gaps.
    Forecast,
    /// Wall times around a clock change, shifts past midnight.
    Clock,
    /// Dew point, humidity, frost point.
    Humidity,
    /// Where the sun stands.
    Sun,
    /// Radiation on the level roof.
    Radiation,
    /// Emissivity and temperature of the sky.
    Sky,
    /// Reflectance and emittance of the sheet.
    Optics,
    /// Convection and sheet temperature.
    Sheet,
    /// Water on the sheet.
    Film,
    /// Heat index and wind chill.
    People,
    /// The rules that judge a minute.
    Weldable,
    /// What asks for a test.
    Testing,
    /// How the middle of the heat window moves.
    Fusion,
    /// The start speed.
    Setting,
    /// What carries over from earlier trials.
    Carried,
    /// What is learned from them.
    Learned,
    /// How far the forecast is off at this site.
    SiteForecast,
}

impl See {
    /// Every section.
    pub const ALL: [Self; 17] = [
        Self::Forecast,
        Self::Clock,
        Self::Humidity,
        Self::Sun,
        Self::Radiation,
        Self::Sky,
        Self::Optics,
        Self::Sheet,
        Self::Film,
        Self::People,
        Self::Weldable,
        Self::Testing,
        Self::Fusion,
        Self::Setting,
        Self::Carried,
        Self::Learned,
        Self::SiteForecast,
    ];

    /// File and heading, from the project's root.
    pub const fn place(self) -> &'static str {
        match self {
            Self::Forecast => "docs/method.md#where-the-forecast-is-thin",
            Self::Clock => "docs/method.md#clock-changes-and-nights",
            Self::Humidity => "docs/physics.md#humidity",
            Self::Sun => "docs/physics.md#sun",
            Self::Radiation => "docs/physics.md#radiation-on-the-level-roof",
            Self::Sky => "docs/physics.md#sky-temperature",
            Self::Optics => "docs/physics.md#optics",
            Self::Sheet => "docs/physics.md#sheet-temperature",
            Self::Film => "docs/physics.md#the-water-film",
            Self::People => "docs/physics-people-power.md#people-comfort",
            Self::Weldable => "docs/method.md#when-it-can-be-welded",
            Self::Testing => "docs/method.md#when-to-test",
            Self::Fusion => "docs/physics-people-power.md#hot-air-on-the-face-of-a-sheet-fusion",
            Self::Setting => "docs/method.md#what-to-set",
            Self::Carried => "docs/test-welds.md#what-carries-over",
            Self::Learned => "docs/test-welds.md#what-is-learned",
            Self::SiteForecast => "docs/test-welds.md#the-forecast-at-this-site",
        }
    }
}
