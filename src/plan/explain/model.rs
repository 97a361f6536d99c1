//! What an explanation says.

use chrono::{DateTime, NaiveDate, NaiveDateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use crate::physics::fusion::{CenterShift, ShareRange};
use crate::physics::humidity::Condensation;
use crate::physics::radiation::Radiation;
use crate::physics::surface::Range;
use crate::plan::day::{BreakSpan, DayPlan, KnownError};
use crate::plan::mandatory::{Cause, Setting};
use crate::plan::reasons::Verdict;
use crate::plan::roof_moment::FilmMoment;
use crate::plan::span_rules::RuleCheck;
use crate::site::Color;
use crate::units::{
    RainDepth, Temperature, TemperatureDifference, TravelSpeed, UnitSystem, WindSpeed,
};
use crate::weather::Hour;

/// Every number behind one minute. `None` is unknown, never zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Name of the site.
    pub site: String,
    /// How results are shown.
    pub units: UnitSystem,
    /// The zone of the shift.
    pub time_zone: Tz,
    /// The day of the plan: that on which the shift starts.
    pub date: NaiveDate,
    /// Name of the weather source.
    pub source: String,
    /// Start of the minute.
    pub time: DateTime<Utc>,
    /// What a clock change did to the wall time asked for.
    pub wall: WallTime,
    /// First minute of the shift and the minute after its last; `None` without a plan.
    pub shift: Option<(DateTime<Utc>, DateTime<Utc>)>,
    /// What the minute is in the day.
    pub stage: Stage,
    /// The forecast at this minute.
    pub weather: WeatherAt,
    /// The sun and its radiation.
    pub sun: SunAt,
    /// How the sky radiates.
    pub sky: SkyAt,
    /// The sheet.
    pub sheet: SheetAt,
    /// Water on the sheet; `None` where the forecast does not carry it.
    pub water: Option<WaterAt>,
    /// Heat index.
    pub heat_index: Option<Temperature>,
    /// Wind chill; `None` too where it is not defined.
    pub wind_chill: Option<Temperature>,
    /// Every rule in the order of its reasons.
    pub rules: Vec<RuleCheck>,
    /// What the rules come to.
    pub verdict: Verdict,
    /// The test weld that begins in this very minute.
    pub test_here: Option<TestHere>,
    /// What has changed since the last test before this minute; `None` outside the shift and
    /// before its first test.
    pub since: Option<SinceTest>,
    /// The start-speed rule step by step; `None` where the air is unknown.
    pub speed: Option<SpeedSteps>,
    /// How far such forecasts were off at this site's trials; `None` without a plan and before
    /// there are enough.
    pub known_error: Option<KnownError>,
}

/// What a clock change does to a wall time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WallTime {
    /// Nothing.
    Plain,
    /// It occurs twice that day; the first is meant.
    Twice,
    /// It does not occur that day; it is read with the offset in force before the skip.
    Skipped {
        /// As asked for.
        asked: NaiveDateTime,
    },
}

/// What a minute is in the day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stage {
    /// The crew works.
    Work,
    /// In a break.
    Break {
        /// As the crew calls it.
        name: String,
    },
    /// Welding is held.
    Hold,
    /// Before the shift.
    Before,
    /// After the shift.
    After,
    /// There is no plan for the day.
    Unplanned,
}

/// A value that holds at an instant, and how it came about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading<T> {
    /// The value.
    pub value: Option<T>,
    /// How it came about.
    pub origin: Origin<T>,
}

/// How a value came about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin<T> {
    /// The source's own value for this very minute.
    Told,
    /// On the straight line between two of the source's values.
    Between {
        /// The hour before and its value.
        before: (DateTime<Utc>, T),
        /// The hour after and its value.
        after: (DateTime<Utc>, T),
        /// The hour between the two is missing.
        bridged: bool,
    },
    /// Worked out, since the source does not tell it.
    Derived(Derivation),
    /// It is not known.
    Unknown,
}

/// What a value that the source does not tell is worked out from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Derivation {
    /// A dew point from air and humidity.
    AirAndHumidity,
    /// A humidity from air and dew point.
    AirAndDewPoint,
    /// A pressure at the roof from that reduced to sea level.
    SeaLevelPressure,
    /// A pressure at the roof of the standard atmosphere.
    StandardAtmosphere,
}

/// The forecast at one minute.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeatherAt {
    /// The source's row for the hour: what falls, blows or shines within it is read from here.
    pub row: Hour,
    /// Air temperature.
    pub air: Reading<Temperature>,
    /// Dew point.
    pub dew_point: Reading<Temperature>,
    /// Relative humidity.
    pub humidity_pct: Reading<f64>,
    /// Mean wind.
    pub wind: Reading<WindSpeed>,
    /// Share of the sky under cloud.
    pub cloud_cover_pct: Reading<f64>,
    /// Air pressure at the roof.
    pub surface_pressure_hpa: Reading<f64>,
}

/// The sun and its radiation on the level roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunAt {
    /// Elevation of the sun's center, without refraction.
    pub elevation_deg: Option<f64>,
    /// True solar time, 0 to 24.
    pub solar_hour: Option<f64>,
    /// Of a clear sky at this minute.
    pub clear_sky_w_m2: Option<f64>,
    /// Mean of a clear sky over the hour.
    pub clear_mean_w_m2: Option<f64>,
    /// The source's mean of the hour.
    pub told_mean_w_m2: Option<f64>,
    /// Share of a clear sky's radiation that this cloud lets through.
    pub cloud_passes: Option<f64>,
    /// What the roof gets, and which of the above it comes from.
    pub radiation: Option<Radiation>,
}

/// How the sky radiates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkyAt {
    /// Emissivity without its cloud.
    pub clear_emissivity: Option<f64>,
    /// Emissivity with its cloud.
    pub emissivity: Option<f64>,
    /// Temperature at which it radiates.
    pub temperature: Option<Temperature>,
}

/// The sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetAt {
    /// How it takes up sun and sheds heat.
    pub optics: Option<OpticsUsed>,
    /// Heat transfer to the air, W/(m² K).
    pub convection_w_m2_k: Option<Range<f64>>,
    /// Temperature of the dry sheet.
    pub temperature: Option<Range<Temperature>>,
    /// Where dew or frost begins to settle.
    pub condensation: Option<Condensation>,
    /// Sheet less that.
    pub dew_margin: Option<TemperatureDifference>,
}

/// The sheet's two optical numbers and where they come from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpticsUsed {
    /// Its color.
    pub color: Color,
    /// Weathered rather than new.
    pub aged: bool,
    /// 0 to 1.
    pub solar_reflectance: f64,
    /// The site file gives it; else it is the color's.
    pub reflectance_given: bool,
    /// 0 to 1.
    pub thermal_emittance: f64,
    /// The site file gives it; else it is the color's.
    pub emittance_given: bool,
}

/// Water on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterAt {
    /// At the end of the last step of its run at or before the minute.
    pub film: FilmMoment,
    /// Most that the sheet holds.
    pub holds: RainDepth,
}

/// A test weld of the plan that begins in this minute.
#[derive(Debug, Clone, PartialEq)]
pub struct TestHere {
    /// Its id.
    pub id: String,
    /// What asks for it.
    pub cause: Cause,
    /// What each welder starts from.
    pub settings: Vec<Setting>,
}

/// What has changed since the last test, and what that asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct SinceTest {
    /// Id of the last test before this minute.
    pub id: String,
    /// When it was.
    pub time: DateTime<Utc>,
    /// Ambient then.
    pub air: Temperature,
    /// Ambient now less ambient then.
    pub air_change: TemperatureDifference,
    /// A change of this asks for a test.
    pub air_limit: TemperatureDifference,
    /// It has come.
    pub air_due: bool,
    /// Share of the step from sheet to air that the sheet's face gains at the speed then held.
    pub share: Option<ShareRange>,
    /// How far the middle of the heat window has moved.
    pub center_shift: Option<CenterShift>,
    /// A shift of this asks for a test.
    pub center_limit: TemperatureDifference,
    /// It has come.
    pub center_due: bool,
    /// Time since.
    pub elapsed: TimeDelta,
    /// After this many hours a test is due.
    pub max_hours_between: f64,
    /// They are over.
    pub elapsed_due: bool,
    /// The next break with a test after it.
    pub next_break: Option<BreakSpan>,
    /// A change this close before it waits for that test, minutes.
    pub merge_within_minutes: u32,
    /// The next break is that close.
    pub waits: bool,
    /// From the minute to the end of the shift.
    pub to_end: TimeDelta,
    /// No test in these last minutes of the shift.
    pub last_test_before_end_minutes: u32,
    /// The minute is one of them.
    pub too_late: bool,
}

/// The start-speed rule step by step.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedSteps {
    /// Ambient.
    pub ambient: Temperature,
    /// Ambient to the nearest 10 °F, a tie to the slower.
    pub rounded: Temperature,
    /// That over ten, plus two, in ft/min.
    pub by_rule: TravelSpeed,
    /// One for each automatic welder.
    pub welders: Vec<WelderSpeed>,
}

/// The rule's speed kept within one welder's range.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderSpeed {
    /// Its name.
    pub name: String,
    /// Slowest.
    pub slowest: TravelSpeed,
    /// Fastest.
    pub fastest: TravelSpeed,
    /// What it starts from.
    pub speed: TravelSpeed,
}

impl Explanation {
    /// The same, for a wall time that a clock change may have touched.
    #[must_use]
    pub fn asked_as(mut self, wall: WallTime) -> Self {
        self.wall = wall;
        self
    }
}

impl SinceTest {
    /// Whether something asks for a test in this minute, were the crew at work in it and not in
    /// the last minutes of the shift.
    pub const fn is_due(&self) -> bool {
        ((self.air_due || self.center_due) && !self.waits) || self.elapsed_due
    }
}

impl Stage {
    /// Of a minute outside the shift of `plan`.
    pub(super) fn outside(plan: &DayPlan, at: DateTime<Utc>) -> Self {
        if at < plan.shift.start { Self::Before } else { Self::After }
    }

    /// The word in JSON.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Work => "work",
            Self::Break { .. } => "break",
            Self::Hold => "hold",
            Self::Before => "before-shift",
            Self::After => "after-shift",
            Self::Unplanned => "unplanned",
        }
    }
}
