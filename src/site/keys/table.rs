//! The table itself.

use super::{Allowed, Form, Key, Preset, Table, Unit};
use crate::words::Language;

/// The tables of the site file, in the order in which they are shown.
pub const TABLES: &[Table] = &[
    Table { path: "", about: "The place and the units; these stand above the first table." },
    Table { path: "shift", about: "Working hours in local wall time." },
    Table { path: "shift.breaks[]", about: "Stops within the shift, one entry each." },
    Table { path: "sheet", about: "The membrane." },
    Table { path: "welders[]", about: "Hot-air welders, one entry each, at least one." },
    Table { path: "power", about: "Generator and cord; the whole table is optional." },
    Table { path: "rules", about: "When to test and when to hold; every rule has a default." },
    Table { path: "weather", about: "Where the forecast comes from." },
    Table { path: "reminders", about: "When phones ring." },
    Table {
        path: "publish",
        about: "Where `fairseam follow` publishes; the whole table is optional.",
    },
];

const fn key(path: &'static str, form: Form, preset: Preset, meaning: &'static str) -> Key {
    Key { path, form, preset, meaning }
}

/// A number whose unit, range and default follow the site's units.
const fn twin(unit: Unit, us: (f64, f64), metric: (f64, f64)) -> Form {
    Form::Number(unit, Allowed { us, metric })
}

/// A number whose unit and range are the same in either unit system.
const fn number(unit: Unit, low: f64, high: f64) -> Form {
    Form::Number(unit, Allowed::same(low, high))
}

const fn twins(us: f64, metric: f64) -> Preset {
    Preset::Number { us, metric }
}

/// Heats that a hot-air welder can be set to.
const HEAT: Form = twin(Unit::Temperature, (200.0, 1400.0), (90.0, 760.0));
const TRAVEL: Form = twin(Unit::TravelSpeed, (0.5, 60.0), (0.15, 18.0));
const MINUTES_OF_A_DAY: u32 = 1440;

/// Every key of the site file.
///
/// Defaults that are marked as common practice come from the trade and claim no published source.
///
/// - `rules.ambient_change`: Source: SanJoaquin02778, trial seams.
/// - `rules.max_hours_between`: Source: Nashua37950, trial seams.
/// - `rules.rain_hold`, `rules.snow_hold`: Source: NwsGlossary, "measurable".
/// - `rules.rain_hold` on a metric site: Source: WmoGuide8, chapter 6.
/// - `rules.wind_stop`: Source: Osha1926, 1926.968, the definition of high wind.
/// - `rules.thunder_clear_minutes`: Source: OshaNoaa3863.
/// - `rules.dew_margin`: Source: Iso8502, as coating guides cite it.
/// - `rules.heat_care`: Source: NWSbands, extreme caution.
#[rustfmt::skip]
pub const KEYS: &[Key] = &[
    key("name", Form::Text, Preset::Required, "what the crew calls the roof"),
    key("id", Form::Id, Preset::Absent, "stands for the site in the test-weld book and in calendars, so that it can be renamed and moved; without it, name and place do"),
    key("latitude_deg", number(Unit::Degrees, -90.0, 90.0), Preset::Required, "latitude, north positive"),
    key("longitude_deg", number(Unit::Degrees, -180.0, 180.0), Preset::Required, "longitude, east positive"),
    key("time_zone", Form::Zone, Preset::Absent, "zone of the shift; may be left out where the weather source tells it"),
    key("units", Form::Choice(&["us", "metric"]), Preset::Word("us"), "what the numbers below mean, and how results are shown"),
    key("language", Form::Choice(&Language::TAGS), Preset::Word(Language::En.tag()), "of what the crew reads: plan, page, reminders, verdicts; also --language"),
    key("elevation", twin(Unit::Length, (-1500.0, 20_000.0), (-450.0, 6100.0)), Preset::Absent, "height of the roof above sea level"),
    key("shift.start", Form::Time, Preset::Required, "first minute of work"),
    key("shift.end", Form::Time, Preset::Required, "end of work; before the start for a night shift"),
    key("shift.workdays", Form::Choices(&["mon", "tue", "wed", "thu", "fri", "sat", "sun"]), Preset::Words(&["mon", "tue", "wed", "thu", "fri"]), "days on which the crew works"),
    key("shift.breaks", Form::Tables { most: 20 }, Preset::NoTables, "stops within the shift; on a night shift a time before the start is the next day"),
    key("shift.breaks[].name", Form::Text, Preset::Word("break"), "what the crew calls it"),
    key("shift.breaks[].start", Form::Time, Preset::Required, "first minute of the break"),
    key("shift.breaks[].minutes", Form::Whole(Unit::Minutes, 1, 720), Preset::Required, "how long it is; it ends within the shift"),
    key("sheet.polymer", Form::Choice(&["pvc", "tpo", "kee"]), Preset::Required, "what the membrane is made of"),
    key("sheet.thickness", twin(Unit::Thickness, (20.0, 200.0), (0.5, 5.0)), Preset::Required, "nominal thickness"),
    key("sheet.color", Form::Choice(&["white", "gray", "tan", "black"]), Preset::Word("white"), "gives typical values for sun and heat"),
    key("sheet.aged", Form::Flag, Preset::Flag(false), "weathered and soiled rather than new"),
    key("sheet.solar_reflectance", number(Unit::Share, 0.0, 1.0), Preset::Absent, "measured share of the sun thrown back; wins over the color's"),
    key("sheet.thermal_emittance", number(Unit::Share, 0.0, 1.0), Preset::Absent, "measured thermal emittance; wins over the color's"),
    key("sheet.width", twin(Unit::Length, (1.0, 25.0), (0.3, 7.5)), Preset::Absent, "width of a roll as it comes; with `lap`, the plan says how much roof may be opened before rain"),
    key("sheet.lap", twin(Unit::Depth, (1.0, 24.0), (25.0, 600.0)), Preset::Absent, "how far one sheet lies over the next, less than half of `width`"),
    key("sheet.roll_length", twin(Unit::Length, (5.0, 500.0), (1.5, 150.0)), Preset::Absent, "length of a roll; with it end laps count too, and the plan tells rolls"),
    key("welders", Form::Tables { most: 50 }, Preset::Required, "the machines, one table each"),
    key("welders[].name", Form::Text, Preset::Required, "what the crew calls it; unique on the site"),
    key("welders[].kind", Form::Choice(&["automatic", "hand"]), Preset::Required, "self-propelled, or held and moved by hand"),
    key("welders[].heat_low", HEAT, twins(700.0, 370.0), "first heat of a full-range trial; common practice"),
    key("welders[].heat_max", HEAT, twins(1100.0, 590.0), "the machine's maximum, above heat_low"),
    key("welders[].heat_step", twin(Unit::TemperatureDifference, (10.0, 500.0), (5.0, 280.0)), twins(100.0, 50.0), "from one heat of a trial to the next; common practice"),
    key("welders[].speed_min", TRAVEL, twins(3.0, 1.0), "slowest travel; not for a hand welder"),
    key("welders[].speed_max", TRAVEL, twins(18.0, 5.5), "fastest travel; not for a hand welder"),
    key("welders[].rated_watts", number(Unit::Watts, 100.0, 50_000.0), Preset::Absent, "power on the machine's plate"),
    key("welders[].rated_volts", number(Unit::Volts, 50.0, 1000.0), Preset::Absent, "voltage on the machine's plate"),
    key("power.generator_watts", number(Unit::Watts, 100.0, 1_000_000.0), Preset::Absent, "what the generator gives continuously"),
    key("power.dedicated", Form::Flag, Preset::Absent, "whether the automatic welder has it to itself"),
    key("power.cord_gauge_awg", Form::Whole(Unit::Awg, 0, 20), Preset::Absent, "gauge of the cord's conductors; this or cord_mm2"),
    key("power.cord_mm2", number(Unit::SquareMillimeters, 0.5, 120.0), Preset::Absent, "cross-section of one conductor; this or cord_gauge_awg"),
    key("power.cord_length", twin(Unit::Length, (1.0, 3000.0), (0.3, 900.0)), Preset::Absent, "from the generator to the welder, one way"),
    key("rules.ambient_change", twin(Unit::TemperatureDifference, (1.0, 100.0), (0.5, 55.0)), twins(10.0, 5.5), "test again when the air has moved this far since the last test"),
    key("rules.break_needs_test_minutes", Form::Whole(Unit::Minutes, 0, 720), Preset::Whole(10), "a shorter stop needs no test"),
    key("rules.merge_within_minutes", Form::Whole(Unit::Minutes, 0, 240), Preset::Whole(20), "a change due this close before a break waits for the test after it"),
    key("rules.last_test_before_end_minutes", Form::Whole(Unit::Minutes, 0, 480), Preset::Whole(30), "no test this close to the end of the shift"),
    key("rules.trial_minutes", Form::Whole(Unit::Minutes, 1, 120), Preset::Whole(10), "how long one test weld takes; common practice"),
    key("rules.max_hours_between", number(Unit::Hours, 0.5, 24.0), twins(5.0, 5.0), "test again after this long at the latest"),
    key("rules.speed_drift", twin(Unit::TravelSpeed, (0.0, 20.0), (0.0, 6.0)), twins(1.0, 0.3), "keep the record's speed unless the rule's is further away"),
    key("rules.carry_days", Form::Whole(Unit::Days, 0, 365), Preset::Whole(7), "an older test weld is no starting point"),
    key("rules.rain_hold", twin(Unit::Depth, (0.001, 10.0), (0.01, 250.0)), twins(0.01, 0.1), "this much rain is a hold: measurable rain"),
    key("rules.snow_hold", twin(Unit::Depth, (0.01, 40.0), (0.1, 1000.0)), twins(0.1, 1.0), "this depth of fresh snow is a hold: measurable snow"),
    key("rules.cold_care", twin(Unit::Temperature, (-40.0, 100.0), (-40.0, 40.0)), twins(40.0, 5.0), "air below this needs care; common practice"),
    key("rules.gust_care", twin(Unit::Wind, (1.0, 150.0), (0.5, 70.0)), twins(25.0, 11.0), "gusts of this and more need care; common practice"),
    key("rules.wind_shield", twin(Unit::Wind, (1.0, 150.0), (0.5, 70.0)), twins(20.0, 9.0), "wind of this and more asks for a shield at the welder; common practice"),
    key("rules.wind_stop", twin(Unit::Wind, (1.0, 150.0), (0.5, 70.0)), twins(40.0, 18.0), "wind or a gust of this is a hold"),
    key("rules.thunder_hold_pct", number(Unit::Percent, 1.0, 100.0), twins(30.0, 30.0), "a chance of thunder of this is a hold, as is thunder that the source names; common practice"),
    key("rules.thunder_clear_minutes", Form::Whole(Unit::Minutes, 0, 240), Preset::Whole(30), "the hold lasts this long after the last hour with thunder"),
    key("rules.dew_margin", twin(Unit::TemperatureDifference, (0.0, 20.0), (0.0, 11.0)), twins(5.4, 3.0), "a sheet less than this above the dew point needs care"),
    key("rules.film_dry", twin(Unit::Depth, (0.0, 0.04), (0.0, 1.0)), twins(0.0008, 0.02), "more water than this on the sheet is a hold: what a wipe takes off; an assumption"),
    key("rules.heat_care", twin(Unit::Temperature, (70.0, 140.0), (21.0, 60.0)), twins(90.0, 32.0), "a heat index of this and more needs care"),
    key("rules.seal_minutes", Form::Whole(Unit::Minutes, 0, 480), Preset::Whole(45), "what is open must be sealed this long before rain; common practice"),
    key("rules.sheet_shift_heat", twin(Unit::TemperatureDifference, (1.0, 500.0), (0.5, 280.0)), Preset::Absent, "test again when the middle of the window has moved this far with the sheet; half the smallest heat step where it is not given"),
    key("rules.standby_pct", number(Unit::Percent, 1.0, 100.0), twins(35.0, 35.0), "a test that is this likely and not in the plan is shown as a stand-by"),
    key("rules.tell_after_minutes", Form::Whole(Unit::Minutes, 1, 240), Preset::Whole(15), "while a day is followed, a test or a hold that moves by this much is told to the crew; common practice"),
    key("rules.withdraw_after_forecasts", Form::Whole(Unit::Forecasts, 1, 20), Preset::Whole(2), "while a day is followed, a test or a hold is withdrawn after this many forecasts in a row without it"),
    key("rules.footage_target", twin(Unit::Length, (1.0, 100_000.0), (0.3, 30_000.0)), Preset::Absent, "seam to be laid in the shift"),
    key("rules.crew_size", Form::Whole(Unit::People, 1, 200), Preset::Absent, "people who stand by while a test weld is made, for the budget of the outlook"),
    key("rules.crew_cost_per_hour", number(Unit::Money, 0.01, 1_000_000.0), Preset::Absent, "what an hour of one of them costs, in any currency, for the budget of the outlook"),
    key("rules.strip_min_width", twin(Unit::Depth, (0.1, 6.0), (3.0, 150.0)), twins(1.0, 25.0), "a strip tears its film over at least this; common practice"),
    key("rules.strip_target_width", twin(Unit::Depth, (0.1, 6.0), (3.0, 150.0)), twins(1.5, 38.0), "what the crew aims at; common practice"),
    key("rules.heat_increment", twin(Unit::TemperatureDifference, (1.0, 50.0), (1.0, 30.0)), twins(5.0, 5.0), "steps in which a welder's heat can be dialed"),
    key("weather.source", Form::Choice(&["auto", "nws", "met-norway", "open-meteo", "file"]), Preset::Word("auto"), "auto: the NWS inside its coverage, else MET Norway"),
    key("weather.contact", Form::Contact, Preset::Absent, "goes into the User-Agent, which two of the services require"),
    key("weather.path", Form::Path, Preset::Absent, "the forecast file, for source = \"file\"; also --forecast"),
    key("weather.base_url", Form::Address, Preset::Absent, "a server to ask instead of the service's own"),
    key("weather.api_key", Form::Secret, Preset::Absent, "for the commercial host of Open-Meteo; never shown"),
    key("weather.non_commercial", Form::Flag, Preset::Flag(false), "declares that the use of Open-Meteo's free host is not commercial"),
    key("reminders.before_minutes", Form::Minutes { low: 0, high: MINUTES_OF_A_DAY, most: 5 }, Preset::Wholes(&[15, 0]), "one alarm each before every test; [] for none"),
    key("reminders.evening_before", Form::TimeOrNone, Preset::Time(18, 0), "when one entry for the whole of tomorrow stands in the calendar"),
    key("reminders.short_name", Form::Text, Preset::Absent, "how a reminder's title names the roof, in 20 characters or fewer; without it, `name` with its middle left out"),
    key("publish.ics", Form::Path, Preset::Absent, "the calendar file that `fairseam follow` keeps current"),
    key("publish.caldav", Form::Address, Preset::Absent, "a calendar on a CalDAV server that `fairseam follow` keeps current; https, or http on this machine"),
    key("publish.caldav_login", Form::Path, Preset::Absent, "a file for its owner alone (mode 0600) that holds `user:password` of that server; the environment's FAIRSEAM_CALDAV_LOGIN wins over it"),
];
