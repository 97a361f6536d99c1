//! What a site file says, once it has been read and found sound.

use chrono::{NaiveTime, Weekday};
use chrono_tz::Tz;

use crate::units::{
    BondWidth, Length, RainDepth, Temperature, TemperatureDifference, Thickness, TravelSpeed,
    UnitSystem, WindSpeed,
};
use crate::words::Language;

/// One roof, its crew's day and its machines.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Free text.
    pub name: String,
    /// Stands for the site whatever becomes of its name and place, where the file gives it.
    pub id: Option<String>,
    /// -90 to 90, north positive.
    pub latitude_deg: f64,
    /// -180 to 180, east positive.
    pub longitude_deg: f64,
    /// Height above sea level.
    pub elevation: Option<Length>,
    /// IANA zone; `None` where the weather source has to tell it.
    pub time_zone: Option<Tz>,
    /// What the file's numbers mean and how results are shown.
    pub units: UnitSystem,
    /// In which the crew is spoken to.
    pub language: Language,
    /// Working hours.
    pub shift: Shift,
    /// The membrane.
    pub sheet: Sheet,
    /// What a roll of it measures.
    pub roll: Roll,
    /// At least one.
    pub welders: Vec<Welder>,
    /// Generator and cord, where the file gives them.
    pub power: Option<Power>,
    /// Thresholds and times.
    pub rules: Rules,
    /// Where the forecast comes from.
    pub weather: WeatherSettings,
    /// When phones ring.
    pub reminders: Reminders,
    /// Where a followed day is published.
    pub publish: Publish,
}

/// Working hours in local wall time.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// First minute of work.
    pub start: NaiveTime,
    /// End of work; before `start` for a night shift, never equal to it.
    pub end: NaiveTime,
    /// Days on which the crew works.
    pub workdays: Vec<Weekday>,
    /// In the order of the shift, inside it, without overlap.
    pub breaks: Vec<Break>,
}

/// A stop within the shift.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Break {
    /// As the crew calls it.
    pub name: String,
    /// Local wall time.
    pub start: NaiveTime,
    /// At least 1.
    pub minutes: u32,
}

/// The membrane.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What it is made of.
    pub polymer: Polymer,
    /// Nominal thickness.
    pub thickness: Thickness,
    /// How it takes up sun and sheds heat.
    pub optics: Optics,
}

/// Thermoplastic of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Polymer {
    /// Polyvinyl chloride.
    Pvc,
    /// Thermoplastic polyolefin.
    Tpo,
    /// Ketone ethylene ester.
    Kee,
}

/// A roll of the membrane, as far as the file gives its measures: only how much roof may be opened
/// depends on them, no test and no setting.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Roll {
    /// As it comes.
    pub width: Option<Length>,
    /// How far one sheet lies over the next; less than half of `width`.
    pub lap: Option<Length>,
    /// As it comes; longer than `lap`.
    pub length: Option<Length>,
}

/// Solar and thermal surface values, from a color or from measured numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Optics {
    /// The named color; explicit numbers win over its preset.
    pub color: Color,
    /// Weathered and soiled rather than new.
    pub aged: bool,
    /// 0 to 1, where the file gives it.
    pub solar_reflectance: Option<f64>,
    /// 0 to 1, where the file gives it.
    pub thermal_emittance: Option<f64>,
}

/// Named sheet colors.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Color {
    /// White.
    White,
    /// Light to mid gray.
    Gray,
    /// Tan.
    Tan,
    /// Black.
    Black,
}

/// A hot-air welder on the site.
#[derive(Debug, Clone, PartialEq)]
pub struct Welder {
    /// Unique on the site.
    pub name: String,
    /// Automatic or hand.
    pub kind: Kind,
    /// First heat of a full-range trial.
    pub heat_low: Temperature,
    /// The machine's maximum, above `heat_low`.
    pub heat_max: Temperature,
    /// Above zero.
    pub heat_step: TemperatureDifference,
    /// Slowest and fastest travel; `None` for a hand welder, which has no travel speed.
    pub speed: Option<(TravelSpeed, TravelSpeed)>,
    /// Rated power in watts.
    pub rated_watts: Option<f64>,
    /// Rated voltage in volts.
    pub rated_volts: Option<f64>,
}

/// How a welder moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Self-propelled along the lap.
    Automatic,
    /// Held and moved by hand.
    Hand,
}

/// Generator and cord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Power {
    /// Continuous rating in watts.
    pub generator_watts: Option<f64>,
    /// Whether the welder has the generator to itself.
    pub dedicated: Option<bool>,
    /// Conductor gauge; the file gives this or `cord_mm2`, not both.
    pub cord_gauge_awg: Option<u32>,
    /// Conductor cross-section in mm².
    pub cord_mm2: Option<f64>,
    /// One way.
    pub cord_length: Option<Length>,
}

/// Every rule of the plan; `fairseam check` shows each with its origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rules {
    /// Test again when ambient has moved this far since the last test.
    pub ambient_change: TemperatureDifference,
    /// A shorter stop needs no test.
    pub break_needs_test_minutes: u32,
    /// A change due this close before a break waits for the test after it.
    pub merge_within_minutes: u32,
    /// No test this close to the end of the shift.
    pub last_test_before_end_minutes: u32,
    /// How long one test takes.
    pub trial_minutes: u32,
    /// Test again after this many hours at the latest.
    pub max_hours_between: f64,
    /// Hold the record's speed unless the rule's is further away than this.
    pub speed_drift: TravelSpeed,
    /// A record older than this many days is no starting point.
    pub carry_days: u32,
    /// This much rain in an hour, or in a longer total as the service gives it, is a hold.
    pub rain_hold: RainDepth,
    /// This much fresh snow is a hold.
    pub snow_hold: RainDepth,
    /// Air below this needs care.
    pub cold_care: Temperature,
    /// A gust of this needs care.
    pub gust_care: WindSpeed,
    /// Mean wind of this asks for a shield at the welder.
    pub wind_shield: WindSpeed,
    /// Wind or a gust of this is a hold.
    pub wind_stop: WindSpeed,
    /// A chance of thunder of this many percent is a hold.
    pub thunder_hold_pct: f64,
    /// The hold lasts this long after the last hour with thunder.
    pub thunder_clear_minutes: u32,
    /// The sheet within this of the dew point needs care.
    pub dew_margin: TemperatureDifference,
    /// More water than this on the sheet is a hold.
    pub film_dry: RainDepth,
    /// A heat index of this needs care.
    pub heat_care: Temperature,
    /// What is open must be sealed this long before rain.
    pub seal_minutes: u32,
    /// A predicted shift of the window's center of this asks for a test; `None` for half the
    /// smallest heat step of the site.
    pub sheet_shift_heat: Option<TemperatureDifference>,
    /// A test that is this likely and not in the plan is shown as a stand-by, percent.
    pub standby_pct: f64,
    /// While a day is followed, a checkpoint or hold that moves by this much is told.
    pub tell_after_minutes: u32,
    /// While a day is followed, good news has to stand in this many forecasts in a row.
    pub withdraw_after_forecasts: u32,
    /// Seam to be laid in the shift.
    pub footage_target: Option<Length>,
    /// People who stand by while a test weld is made; only the outlook's budget asks.
    pub crew_size: Option<u32>,
    /// What an hour of one of them costs, in whatever currency the reader counts.
    pub crew_cost_per_hour: Option<f64>,
    /// A strip tears its film over at least this.
    pub strip_min_width: BondWidth,
    /// What the crew aims at.
    pub strip_target_width: BondWidth,
    /// Steps in which a welder's heat can be dialed.
    pub heat_increment: TemperatureDifference,
}

/// Where the forecast comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeatherSettings {
    /// Which service.
    pub source: SourceName,
    /// Goes into the User-Agent.
    pub contact: Option<String>,
    /// For `file`.
    pub path: Option<String>,
    /// Instead of the service's own host.
    pub base_url: Option<String>,
    /// For the commercial host of Open-Meteo.
    pub api_key: Option<String>,
    /// The site declares that its use of Open-Meteo's free host is not commercial.
    pub non_commercial: bool,
}

/// Names of sources in the site file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SourceName {
    /// The NWS inside its coverage, else MET Norway.
    Auto,
    /// U.S. National Weather Service.
    Nws,
    /// MET Norway.
    MetNorway,
    /// Open-Meteo.
    OpenMeteo,
    /// A file.
    File,
}

/// When phones ring.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reminders {
    /// Minutes before a checkpoint; one alarm each, longest first.
    pub before_minutes: Vec<u32>,
    /// Local time of the entry for the whole of tomorrow; `None` for none.
    pub evening_before: Option<NaiveTime>,
    /// The roof's name in a reminder's title; where it is `None`, the site's name, cut to fit.
    pub short_name: Option<String>,
}

/// Where a followed day is published; nowhere but in the data folder where neither is given.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Publish {
    /// A calendar file.
    pub ics: Option<String>,
    /// The address of a calendar on a CalDAV server.
    pub caldav: Option<String>,
    /// The file that holds its login.
    pub caldav_login: Option<String>,
}
