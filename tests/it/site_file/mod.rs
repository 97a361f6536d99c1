//! The site file: what it says, what holds without it, and what is wrong with it.

use chrono::{NaiveTime, Weekday};
use fairseam::site::{
    Color, Kind, Loaded, Origin, Polymer, SiteFaults, SourceName, load, rules_in_force,
};
use fairseam::units::UnitSystem;

mod faults;
mod hostile;
mod shown;

const EXAMPLE: &str = include_str!("../../../config/example.toml");

/// The shortest site file that is sound.
const SHORTEST: &str = r#"name = "Bay"
latitude_deg = 40.7
longitude_deg = -74.2
[shift]
start = "07:00"
end = "15:30"
[sheet]
polymer = "tpo"
thickness = 60
[[welders]]
name = "one"
kind = "automatic"
"#;

fn loaded(text: &str) -> Loaded {
    load(text, "site.toml").unwrap_or_else(|faults| panic!("{faults}\n---\n{text}"))
}

fn faults(text: &str) -> SiteFaults {
    match load(text, "site.toml") {
        Ok(_) => panic!("this was taken for sound:\n{text}"),
        Err(faults) => faults,
    }
}

/// The shortest file with one piece replaced.
fn changed(from: &str, to: &str) -> String {
    assert!(SHORTEST.contains(from), "{from}");
    SHORTEST.replacen(from, to, 1)
}

/// The shortest file with lines of one table: appended to that table if it is there.
fn with(table: &str, lines: &str) -> String {
    let header = format!("{table}\n");
    if table.is_empty() {
        format!("{lines}\n{SHORTEST}")
    } else if SHORTEST.contains(&header) {
        SHORTEST.replacen(&header, &format!("{header}{lines}\n"), 1)
    } else {
        format!("{SHORTEST}{header}{lines}\n")
    }
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-9
}

#[test]
fn the_example_loads_and_says_what_the_contract_says() {
    let site = loaded(EXAMPLE).site;
    assert_eq!(site.name, "Cold-store re-roof, east bay");
    assert_eq!(site.time_zone, Some(chrono_tz::America::New_York));
    assert_eq!(site.shift.start, NaiveTime::from_hms_opt(7, 0, 0).unwrap());
    let breaks: Vec<_> =
        site.shift.breaks.iter().map(|stop| (stop.name.as_str(), stop.minutes)).collect();
    assert_eq!(breaks, [("morning break", 15), ("lunch", 30)]);
    assert_eq!(site.sheet.polymer, Polymer::Pvc);
    // 80 mil of 0.0254 mm each: NIST SP 811, appendix B.8.
    assert!(close(site.sheet.thickness.millimeters(), 2.032));
    assert_eq!(site.welders[0].kind, Kind::Automatic);
    assert_eq!(site.power.unwrap().cord_gauge_awg, Some(10));
    assert_eq!(site.weather.source, SourceName::Auto);
    assert_eq!(site.reminders.before_minutes, [15, 0]);
}

/// Rows are the defaults as the contract and its metric twins state them:
/// (key, US units, metric).
const DEFAULTS: &[(&str, &str, &str)] = &[
    ("units", "us", "metric"),
    ("shift.workdays", "mon, tue, wed, thu, fri", "mon, tue, wed, thu, fri"),
    ("shift.breaks", "none", "none"),
    ("sheet.color", "white", "white"),
    ("sheet.aged", "false", "false"),
    ("welders[1].heat_low", "700 °F", "370 °C"),
    ("welders[1].heat_max", "1100 °F", "590 °C"),
    ("welders[1].heat_step", "100 °F apart", "50 °C apart"),
    ("welders[1].speed_min", "3 ft/min", "1 m/min"),
    ("welders[1].speed_max", "18 ft/min", "5.5 m/min"),
    ("rules.ambient_change", "10 °F apart", "5.5 °C apart"),
    ("rules.break_needs_test_minutes", "10 min", "10 min"),
    ("rules.merge_within_minutes", "20 min", "20 min"),
    ("rules.last_test_before_end_minutes", "30 min", "30 min"),
    ("rules.trial_minutes", "10 min", "10 min"),
    ("rules.max_hours_between", "5 h", "5 h"),
    ("rules.speed_drift", "1 ft/min", "0.3 m/min"),
    ("rules.carry_days", "7 days", "7 days"),
    ("rules.rain_hold", "0.01 in", "0.1 mm"),
    ("rules.snow_hold", "0.1 in", "1 mm"),
    ("rules.cold_care", "40 °F", "5 °C"),
    ("rules.gust_care", "25 mph", "11 m/s"),
    ("rules.wind_shield", "20 mph", "9 m/s"),
    ("rules.wind_stop", "40 mph", "18 m/s"),
    ("rules.thunder_hold_pct", "30 %", "30 %"),
    ("rules.thunder_clear_minutes", "30 min", "30 min"),
    ("rules.dew_margin", "5.4 °F apart", "3 °C apart"),
    ("rules.film_dry", "0.0008 in", "0.02 mm"),
    ("rules.heat_care", "90 °F", "32 °C"),
    ("rules.seal_minutes", "45 min", "45 min"),
    ("rules.standby_pct", "35 %", "35 %"),
    ("rules.strip_min_width", "1 in", "25 mm"),
    ("rules.strip_target_width", "1.5 in", "38 mm"),
    ("rules.heat_increment", "5 °F apart", "5 °C apart"),
    ("weather.source", "auto", "auto"),
    ("weather.non_commercial", "false", "false"),
    ("reminders.before_minutes", "15, 0 min", "15, 0 min"),
    ("reminders.evening_before", "18:00", "18:00"),
];

#[test]
fn the_defaults_are_the_stated_ones_in_either_unit_system() {
    let metric = with("", "units = \"metric\"").replace("thickness = 60", "thickness = 1.5");
    let (us, metric) = (loaded(SHORTEST), loaded(&metric));
    for &(key, in_us, in_metric) in DEFAULTS {
        assert_eq!(us.origins.of(key), Some(Origin::Default), "{key}");
        let name = key.rsplit('.').next().unwrap();
        for (loaded, expected) in [(&us, in_us), (&metric, in_metric)] {
            let shown = rules_in_force(loaded);
            let row = shown.lines().find(|line| line.split(' ').nth(2) == Some(name)).unwrap();
            let row: Vec<_> = row.split_whitespace().collect();
            assert_eq!(row[1..row.len() - 1].join(" "), expected, "{key}");
        }
    }
    let rules = metric.site.rules;
    assert!(close(rules.ambient_change.kelvin(), 5.5));
    assert!(close(rules.gust_care.meters_per_second(), 11.0));
    assert!(close(rules.cold_care.celsius(), 5.0));
    assert!(close(us.site.rules.cold_care.fahrenheit(), 40.0));
    assert!(close(us.site.welders[0].heat_max.fahrenheit(), 1100.0));
}

#[test]
fn the_shortest_file_has_nothing_that_it_does_not_give() {
    let site = loaded(SHORTEST).site;
    assert_eq!(site.units, UnitSystem::Us);
    assert_eq!((site.elevation, site.time_zone, site.power), (None, None, None));
    assert!(site.shift.breaks.is_empty());
    assert_eq!(site.sheet.optics.color, Color::White);
    assert_eq!(site.sheet.optics.solar_reflectance, None);
    assert_eq!((site.welders[0].rated_watts, site.welders[0].rated_volts), (None, None));
    let weather = site.weather;
    assert_eq!((weather.contact, weather.path, weather.base_url), (None, None, None));
    assert_eq!(weather.api_key, None);
}

#[test]
fn a_night_shift_runs_over_midnight_with_its_breaks_in_order() {
    let text = changed("\"07:00\"", "\"21:00\"").replace("\"15:30\"", "\"05:30\"").replace(
        "[sheet]",
        "breaks = [{ name = \"second\", start = \"01:15\", minutes = 30 },\n\
         { name = \"first\", start = \"23:50\", minutes = 20 }]\n[sheet]",
    );
    let shift = loaded(&text).site.shift;
    let names: Vec<_> = shift.breaks.iter().map(|stop| stop.name.as_str()).collect();
    assert_eq!(names, ["first", "second"]);
    let overlapping = text.replace("01:15", "00:09");
    assert_eq!(faults(&overlapping).faults().len(), 1);
    loaded(&text.replace("01:15", "00:10"));
    loaded(&text.replace("01:15", "05:00"));
    assert_eq!(faults(&text.replace("01:15", "05:01")).faults().len(), 1);
    assert_eq!(faults(&text.replace("01:15", "12:00")).faults().len(), 1);
}

#[test]
fn a_break_may_touch_the_ends_of_the_shift_and_its_neighbors() {
    let text = with(
        "[shift]",
        "breaks = [{ start = \"07:00\", minutes = 10 }, { start = \"07:10\", minutes = 10 }, \
         { start = \"15:20\", minutes = 10 }]",
    );
    assert_eq!(loaded(&text).site.shift.breaks.len(), 3);
    // A long break over two short ones: both are told.
    let covered = with(
        "[shift]",
        "breaks = [{ start = \"09:00\", minutes = 120 }, { start = \"09:10\", minutes = 5 }, \
         { start = \"09:30\", minutes = 5 }]",
    );
    assert_eq!(faults(&covered).faults().len(), 2);
}

#[test]
fn what_is_unusual_but_sound_is_taken() {
    let reminders = with("[reminders]", "before_minutes = [0, 60, 15, 60]\nevening_before = \"\"");
    let site = loaded(&reminders).site;
    assert_eq!(site.reminders.before_minutes, [60, 15, 0]);
    assert_eq!(site.reminders.evening_before, None);
    assert!(
        loaded(&with("[reminders]", "before_minutes = []"))
            .site
            .reminders
            .before_minutes
            .is_empty()
    );

    let optics = loaded(&with("[sheet]", "color = \"black\"\nsolar_reflectance = 0.75")).site.sheet;
    assert_eq!(optics.optics.color, Color::Black);
    assert_eq!(optics.optics.solar_reflectance, Some(0.75));

    assert!(loaded(&with("[power]", "")).site.power.is_some());
    assert_eq!(loaded(&with("[weather]", "source = \"file\"")).site.weather.path, None);
    let days = loaded(&with("[shift]", "workdays = [\"sun\", \"sat\"]")).site.shift.workdays;
    assert_eq!(days, [Weekday::Sat, Weekday::Sun]);

    // TOML's own local time, a one-digit hour, a whole number with a point, hexadecimal.
    loaded(&changed("\"07:00\"", "07:00:00"));
    loaded(&changed("\"07:00\"", "\"7:00\""));
    loaded(&with("[rules]", "trial_minutes = 12.0"));
    loaded(&changed("60", "0x3C"));

    // Names are free text, kept to the letter.
    let name = "Bay\\nBEGIN:VALARM \\u00e9\\u202e";
    let site = loaded(&changed("Bay", name)).site;
    assert_eq!(site.name, "Bay\nBEGIN:VALARM é\u{202e}");
    loaded(&changed("Bay", &"é".repeat(200)));
    assert_eq!(faults(&changed("Bay", &"é".repeat(201))).faults().len(), 1);

    // Windows line ends and a byte order mark.
    loaded(&format!("\u{feff}{}", SHORTEST.replace('\n', "\r\n")));
    // A hand welder has heats and no speed.
    let hand = loaded(&changed("\"automatic\"", "\"hand\""));
    assert_eq!(hand.site.welders[0].speed, None);
    assert_eq!(hand.origins.of("welders[1].speed_min"), None);
    assert_eq!(hand.origins.of("welders[1].heat_max"), Some(Origin::Default));
}
