//! Every number behind a minute: against hand computations, and against the plan itself.

mod consistency;
mod pages;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::America::New_York;
use fairseam::plan::{
    ExplainError, Explanation, PlanInput, Rule, RuleCheck, Stage, Verdict, WallTime,
    explain_moment, plan_day, shift_date, wall_moment,
};
use fairseam::render::explain::{json, text};
use fairseam::render::text::Paint;
use fairseam::site::{self, Site};
use fairseam::testweld::NoRecords;
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};
use serde_json::Value;

use crate::proof::{Allowed, Proof};
use crate::support::example_site;

pub(crate) const NONE: NoRecords = NoRecords { carry_days: 7 };

pub(crate) fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

pub(crate) fn site(overrides: &[(&str, &str)]) -> Site {
    site::load(&example_site(overrides), "site.toml").unwrap().site
}

pub(crate) fn provenance() -> Provenance {
    Provenance {
        source: "file".to_owned(),
        issued_at: None,
        fetched_at: utc("2013-04-08T21:00:00Z"),
        stale: false,
        attribution: "Made by hand.".to_owned(),
        time_zone: None,
    }
}

pub(crate) fn input<'a>(site: &'a Site, forecast: &'a Forecast, date: &str) -> PlanInput<'a> {
    let date = date.parse::<NaiveDate>().unwrap();
    let now = utc("2013-04-08T21:30:00Z");
    let time_zone = site.time_zone.unwrap();
    PlanInput { site, time_zone, date, now, forecast, earlier: &NONE }
}

/// A mild April day in New York's zone, 11 to 21 UTC: 07:00 is 4 °C and 70 %, 08:00 is 10 °C and
/// 60 %, 09:00 is 13 °C and 50 %. Wind 3 m/s, half of the sky under cloud, no rain.
fn april_day() -> Vec<Hour> {
    let air = [4.0, 10.0, 13.0, 15.0, 17.0, 18.0, 19.0, 20.0, 20.0, 19.0, 18.0];
    let humidity = [70.0, 60.0, 50.0];
    let hours = air.into_iter().enumerate().map(|(n, air)| Hour {
        air: Some(Temperature::from_celsius(air)),
        humidity_pct: Some(humidity.get(n).copied().unwrap_or(50.0)),
        wind: Some(WindSpeed::from_meters_per_second(3.0)),
        gust: Some(WindSpeed::from_meters_per_second(6.0)),
        cloud_cover_pct: Some(50.0),
        rain: Some(HourSum::of_one_hour(RainDepth::from_millimeters(0.0))),
        ..Hour::unknown(utc("2013-04-09T11:00:00Z") + TimeDelta::hours(n as i64))
    });
    hours.collect()
}

fn forecast(hours: Vec<Hour>) -> Forecast {
    Forecast::from_hours(provenance(), hours).unwrap()
}

fn explain(site: &Site, forecast: &Forecast, at: &str) -> Explanation {
    let input = input(site, forecast, "2013-04-09");
    let plan = plan_day(&input).unwrap();
    explain_moment(&input, &plan, utc(at)).unwrap()
}

fn value(explanation: &Explanation) -> Value {
    serde_json::from_str(&json(explanation)).unwrap()
}

/// (where in the JSON, expected, allowed error, how it was worked).
///
/// 2013-04-09 12:30 UTC at 40.6925° N 74.1687° W, 18 ft; white sheet of reflectance 0.5 as given.
/// Every row was worked apart from this project, in a few lines of another language, from the
/// formula that is named. The last test was at 07:56, the first minute 10 °F above the 39.2 °F of
/// 07:00, with 49.28 °F.
const HALF_PAST_EIGHT: &[(&str, f64, f64, &str)] = &[
    ("/weather/air/value", 52.7, 0.006, "halfway between 10 and 13 °C is 11.5 °C"),
    ("/weather/humidity/value", 55.0, 0.06, "halfway between 60 and 50 %"),
    ("/weather/dew_point/value", 36.98, 0.02, "AlduchovEskridge1996, eq. 21 solved: 2.768 °C"),
    ("/weather/pressure/value", 1012.35, 0.06, "Allen1998, eq. 7, z = 5.486 m"),
    ("/weather/wind/value", 6.71, 0.006, "3 m/s, NIST811"),
    ("/weather/gust", 13.42, 0.006, "6 m/s, NIST811"),
    ("/sun/elevation", 22.39, 0.02, "the NOAA solar calculator's equations (Meeus)"),
    ("/sun/solar_hour", 7.530, 0.003, "the same: equation of time and longitude"),
    ("/sun/clear_sky", 358.2, 0.4, "Haurwitz1945, 1098 s exp(-0.059/s), s the sine of that"),
    ("/sun/clear_sky_mean", 357.4, 0.5, "mean of 2000 such over the hour"),
    ("/sun/cloud_passes", 0.92895, 0.0001, "KastenCzeplak1980, 1 - 0.75 · 0.5^3.4"),
    ("/sun/radiation", 332.8, 0.4, "the product of the two"),
    ("/sky/clear_emissivity", 0.72347, 0.0005, "MartinBerdahl1984"),
    ("/sky/emissivity", 0.83187, 0.0005, "and 0.784 · 0.5 of what is missing to 1"),
    ("/sky/temperature", 29.66, 0.05, "(273.15 + 11.5) · 0.83187^¼ K"),
    ("/sheet/optics/solar_reflectance", 0.5, 1e-9, "as the site file gives it"),
    ("/sheet/optics/thermal_emittance", 0.92, 1e-9, "Lbnl2000, white"),
    ("/sheet/convection/low", 7.08, 0.006, "0.6 of the nominal"),
    ("/sheet/convection/nominal", 11.8, 0.006, "4 + 2.6 · 3"),
    ("/sheet/convection/high", 17.7, 0.006, "1.5 of the nominal"),
    ("/sheet/temperature/low", 61.35, 0.06, "AstmE1980, eq. 1 by bisection, hc = 17.7"),
    ("/sheet/temperature/nominal", 64.37, 0.06, "AstmE1980, eq. 1 by bisection, hc = 11.8"),
    ("/sheet/temperature/high", 68.85, 0.06, "AstmE1980, eq. 1 by bisection, hc = 7.08"),
    ("/sheet/condensation_point", 36.98, 0.02, "above freezing dew settles at the dew point"),
    ("/sheet/dew_margin", 27.39, 0.06, "64.37 - 36.98"),
    ("/water/film", 0.0, 1e-9, "no rain, and the sheet above the dew point"),
    ("/since_last_test/air", 49.28, 0.006, "4 + 6 · 56/60 = 9.6 °C"),
    ("/since_last_test/air_change", 3.42, 0.006, "1.9 K"),
    ("/since_last_test/air_limit", 10.0, 1e-9, "the rule"),
    ("/since_last_test/minutes", 34.0, 1e-9, "08:30 less 07:56"),
    ("/since_last_test/minutes_to_end", 420.0, 1e-9, "15:30 less 08:30"),
    ("/since_last_test/face_share/nominal", 0.41233, 0.0002, "CarslawJaeger1959 at 7 ft/min"),
    ("/since_last_test/face_share/low", 0.35456, 0.0002, "h = 260, √(kρc) = 658"),
    ("/since_last_test/face_share/high", 0.46601, 0.0002, "h = 305, √(kρc) = 505"),
    ("/since_last_test/center_shift/nominal", -12.68, 0.05, "sheet 55.48 → 64.37, (1 - θ)/θ"),
    ("/since_last_test/center_shift/low", -24.60, 0.1, "least θ, jet 0.7, air up by 3.42"),
    ("/since_last_test/center_shift/high", -10.19, 0.05, "greatest θ, jet 1"),
    ("/since_last_test/center_limit", 50.0, 1e-9, "half of the heat step of 100"),
    ("/start_speed/ambient_fahrenheit", 52.7, 0.006, "11.5 °C"),
    ("/start_speed/rounded_fahrenheit", 50.0, 1e-9, "to the nearest ten"),
    ("/start_speed/by_rule_feet_per_minute", 7.0, 1e-9, "50 / 10 + 2"),
    ("/start_speed/welders/0/speed", 7.0, 1e-9, "within 3 to 18"),
];

#[test]
fn every_number_of_a_minute_agrees_with_its_formula_worked_by_hand() {
    let site = site(&[("sheet.solar_reflectance", "0.5")]);
    let explanation = explain(&site, &forecast(april_day()), "2013-04-09T12:30:00Z");
    let shown = value(&explanation);
    let mut proof = Proof::of(
        "plan/every-number-of-a-minute",
        "Every number behind one minute, from air and sun to the shift of the window",
        "each from the formula named beside it, worked apart from the project",
        "numbers",
        Allowed::Each("the digits shown"),
    );
    for &(place, expected, allowed, source) in HALF_PAST_EIGHT {
        let got = shown.pointer(place).and_then(Value::as_f64);
        let got = got.unwrap_or_else(|| panic!("{place} is {:?}", shown.pointer(place)));
        proof.within(got, expected, allowed, || format!("{place} ({source})"));
    }
    proof.done();
    for (place, expected) in [
        ("/weather/air/origin", "interpolated"),
        ("/weather/air/between/0/time", "2013-04-09T08:00:00-04:00"),
        ("/weather/dew_point/derived", "from air and humidity"),
        ("/weather/pressure/derived", "standard atmosphere at this height"),
        ("/sun/radiation_from", "clear-sky-and-cloud"),
        ("/sheet/optics/solar_reflectance_from", "given"),
        ("/sheet/optics/thermal_emittance_from", "preset"),
        ("/sheet/condenses_as", "dew"),
        ("/since_last_test/id", "change-1"),
        ("/since_last_test/time", "2013-04-09T07:56:00-04:00"),
        ("/since_last_test/next_break/start", "2013-04-09T09:30:00-04:00"),
        ("/stage", "work"),
        ("/verdict", "weld"),
    ] {
        assert_eq!(shown.pointer(place).and_then(Value::as_str), Some(expected), "{place}");
    }
}

#[test]
fn the_minute_of_a_test_shows_the_change_that_asks_for_it() {
    let site = site(&[]);
    let forecast = forecast(april_day());
    // 6 K an hour: 5.556 K (10 °F) are reached after 55.6 minutes.
    let before = explain(&site, &forecast, "2013-04-09T11:55:00Z");
    let at = explain(&site, &forecast, "2013-04-09T11:56:00Z");
    let (before_since, since) = (before.since.unwrap(), at.since.unwrap());
    assert!(!before_since.air_due && since.air_due && since.is_due());
    assert!((before_since.air_change.fahrenheit() - 9.9).abs() < 1e-6);
    assert!((since.air_change.fahrenheit() - 10.08).abs() < 1e-6);
    assert_eq!((since.id.as_str(), before.test_here), ("start", None));
    assert_eq!(at.test_here.unwrap().id, "change-1");
    // And the first test has none before it.
    let start = explain(&site, &forecast, "2013-04-09T11:00:30Z");
    assert_eq!((start.time, start.since), (utc("2013-04-09T11:00:00Z"), None));
    assert_eq!(start.test_here.unwrap().id, "start");
}

#[test]
fn a_change_close_to_a_break_waits_and_a_late_one_is_too_late() {
    // A flat morning until 09:00, then up by 30 °F an hour: 10 °F are reached at 09:20.
    let mut hours = april_day();
    for (n, hour) in hours.iter_mut().enumerate() {
        let fahrenheit = if n < 3 { 50.0 } else { 80.0 };
        hour.air = Some(Temperature::from_fahrenheit(fahrenheit));
    }
    let forecast = forecast(hours);
    let waiting = explain(&site(&[]), &forecast, "2013-04-09T13:20:00Z").since.unwrap();
    assert!(waiting.air_due && waiting.waits && !waiting.is_due());
    assert_eq!(waiting.next_break.unwrap().name, "morning break");
    let early = explain(&site(&[]), &forecast, "2013-04-09T13:09:00Z").since.unwrap();
    assert!(!early.waits, "21 minutes before the break");
    // The shift ends at 15:30, so that 15:00 is the first of the last thirty minutes.
    let late = |at| explain(&site(&[]), &forecast, at).since.unwrap().too_late;
    assert!(!late("2013-04-09T18:59:00Z") && late("2013-04-09T19:00:00Z"));
}

#[test]
fn readings_say_what_was_told_bridged_derived_or_not_known() {
    let mut hours = april_day();
    hours[1].air = None;
    hours[1].wind = None;
    hours[2].wind = None;
    for hour in &mut hours {
        (hour.dew_point, hour.humidity_pct) = (Some(Temperature::from_celsius(2.0)), None);
        hour.sea_level_pressure_hpa = Some(1000.0);
    }
    let site = site(&[("elevation", "5000")]);
    let at_the_gap = value(&explain(&site, &forecast(hours.clone()), "2013-04-09T12:00:00Z"));
    // Over the missing 08:00, between 4 °C at 07:00 and 13 °C at 09:00: 8.5 °C.
    assert_eq!(at_the_gap["weather"]["air"]["origin"], "bridged");
    assert_eq!(at_the_gap["weather"]["air"]["value"], 47.3);
    assert_eq!(at_the_gap["weather"]["wind"]["origin"], "unknown", "two missing are a gap");
    assert_eq!(at_the_gap["weather"]["wind"]["value"], Value::Null);
    assert_eq!(at_the_gap["sheet"]["temperature"], Value::Null, "never zero");
    assert_eq!(at_the_gap["weather"]["dew_point"]["origin"], "told");
    assert_eq!(at_the_gap["weather"]["humidity"]["derived"], "from air and dew point");
    // Allen1998, eq. 7 at 1524 m: 1000 · ((293 - 9.906) / 293)^5.26 = 834.6 hPa.
    assert_eq!(at_the_gap["weather"]["pressure"]["derived"], "from the pressure at sea level");
    let pressure = at_the_gap["weather"]["pressure"]["value"].as_f64().unwrap();
    assert!((pressure - 834.6).abs() < 0.2, "{pressure}");
    // With the service's own numbers nothing is derived.
    for hour in &mut hours {
        hour.surface_pressure_hpa = Some(840.0);
        hour.shortwave_w_m2 = Some(100.0);
    }
    let told = value(&explain(&site, &forecast(hours), "2013-04-09T14:00:00Z"));
    assert_eq!(told["weather"]["pressure"]["origin"], "told");
    assert_eq!(told["sun"]["radiation_from"], "source");
    assert_eq!(told["sun"]["source_mean"], 100);
}

fn check(explanation: &Explanation, rule: Rule) -> RuleCheck {
    *explanation.rules.iter().find(|check| check.rule == rule).unwrap()
}

#[test]
fn graver_rules_speak_for_milder_ones() {
    let mut hours = april_day();
    hours[3].rain = Some(HourSum::share_of(RainDepth::from_inches(0.06), 6));
    hours[3].thunder_probability_pct = Some(35.0);
    hours[4].thunder_probability_pct = Some(5.0);
    hours[3].gust = Some(WindSpeed::from_miles_per_hour(45.0));
    for hour in &mut hours {
        hour.wind = Some(WindSpeed::from_miles_per_hour(21.0));
    }
    let forecast = forecast(hours);
    let wet = explain(&site(&[]), &forecast, "2013-04-09T14:50:00Z");
    assert_eq!((wet.verdict, wet.stage.clone()), (Verdict::Hold, Stage::Hold));
    let said_by = |rule| check(&wet, rule).said_by;
    // The total of six hours counts whole, the film takes the hour's share of it.
    assert!(check(&wet, Rule::Rain).fires() && check(&wet, Rule::Thunder).fires());
    assert!(check(&wet, Rule::WindStop).fires());
    assert_eq!(said_by(Rule::WetSheet), Some(Rule::Rain));
    assert_eq!(said_by(Rule::Gust), Some(Rule::WindStop));
    assert_eq!(said_by(Rule::WindShield), Some(Rule::WindStop));
    assert!(!check(&wet, Rule::Cold).fires() && check(&wet, Rule::Snow).value.is_none());
    let shown = value(&wet);
    assert_eq!(shown["weather"]["rain"]["share"], 0.01);
    assert_eq!(shown["weather"]["rain"]["total"], 0.06);
    assert_eq!(shown["rules"]["checks"][1]["value"], 0.06);
    // Thunder of the hour until 11:00 holds for thirty more minutes.
    let thunder = |at| check(&explain(&site(&[]), &forecast, at), Rule::Thunder).fires();
    assert!(thunder("2013-04-09T15:29:00Z") && !thunder("2013-04-09T15:30:00Z"));
}

#[test]
fn outside_the_shift_a_minute_is_explained_without_the_tests() {
    let site = site(&[]);
    let forecast = forecast(april_day());
    let after = explain(&site, &forecast, "2013-04-09T20:10:00Z");
    assert_eq!(after.stage, Stage::After);
    assert_eq!((after.since, after.test_here), (None, None));
    assert!(after.weather.air.value.is_some() && after.speed.is_some() && after.water.is_some());
    let end = explain(&site, &forecast, "2013-04-09T19:30:00Z");
    assert_eq!(end.stage, Stage::After, "the end is the minute after the last");

    let input = input(&site, &forecast, "2013-04-09");
    let plan = plan_day(&input).unwrap();
    for at in ["2013-04-09T10:59:00Z", "2013-04-09T22:00:00Z", "2031-01-01T00:00:00Z"] {
        let error = explain_moment(&input, &plan, utc(at)).unwrap_err();
        let ExplainError::OutsideForecast { .. } = &error;
        let said = error.to_string();
        assert!(said.contains("2013-04-09 07:00 to 2013-04-09 17:59"), "{said}");
        assert!(!said.contains('\n') && error.hint().is_some());
    }
}

#[test]
fn a_day_without_a_plan_is_still_explained() {
    let site = site(&[]);
    // Only the afternoon is there, so that the shift cannot be planned.
    let forecast = forecast(april_day().split_off(6));
    let input = input(&site, &forecast, "2013-04-09");
    assert!(plan_day(&input).is_err());
    let explainer = fairseam::plan::Explainer::new(&input, None);
    let explanation = explainer.at(utc("2013-04-09T18:20:00Z")).unwrap();
    assert_eq!(explanation.stage, Stage::Unplanned);
    assert_eq!(explanation.weather.air.value.map(|air| air.celsius().round()), Some(20.0));
    assert!(text(&explanation, Paint::Plain).contains("no plan for this day"));
}

fn wall(text: &str) -> chrono::NaiveDateTime {
    chrono::NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
}

#[test]
fn wall_times_that_a_clock_change_skips_or_doubles_are_said() {
    // RFC5545, 3.3.5: the first of two; the offset before the gap, so 02:30 EST.
    let plain = wall_moment(wall("2013-04-09 08:30"), New_York);
    assert_eq!((plain.at, plain.wall), (utc("2013-04-09T12:30:00Z"), WallTime::Plain));
    let mut proof = Proof::of(
        "plan/clock-changes",
        "Wall times that a clock change doubles or skips",
        "RFC5545, section 3.3.5, by hand",
        "times",
        Allowed::Nothing,
    );
    let twice = wall_moment(wall("2013-11-03 01:30"), New_York);
    assert_eq!(twice.wall, WallTime::Twice);
    proof.same(&twice.at, &utc("2013-11-03T05:30:00Z"), || "twice".to_owned());
    let asked = wall("2013-03-10 02:30");
    let skipped = wall_moment(asked, New_York);
    proof.same(&skipped.at, &utc("2013-03-10T07:30:00Z"), || "skipped".to_owned());
    proof.done();
    assert_eq!(skipped.wall, WallTime::Skipped { asked });

    let explanation = explain(&site(&[]), &forecast(april_day()), "2013-04-09T12:30:00Z");
    let page = text(&explanation.clone().asked_as(skipped.wall), Paint::Plain);
    let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("02:30 does not occur that day"), "{page}");
    assert!(page.contains("docs/method.md#clock-changes-and-nights"), "{page}");
    assert_eq!(value(&explanation.asked_as(twice.wall))["clock_change"], "twice");
}

#[test]
fn the_early_hours_belong_to_the_night_shift_that_began_the_day_before() {
    let night =
        site(&[("shift.start", "\"22:00\""), ("shift.end", "\"04:30\""), ("shift.breaks", "[]")]);
    let date = |site: &Site, at: &str| {
        shift_date(site, New_York, wall_moment(wall(at), New_York).at).to_string()
    };
    assert_eq!(date(&night, "2013-04-10 02:00"), "2013-04-09");
    assert_eq!(date(&night, "2013-04-10 04:29"), "2013-04-09");
    assert_eq!(date(&night, "2013-04-10 04:30"), "2013-04-10", "the shift is over");
    assert_eq!(date(&night, "2013-04-10 22:00"), "2013-04-10");
    // On the night of the clock change the skipped half hour still belongs to it.
    assert_eq!(date(&night, "2013-03-10 02:30"), "2013-03-09");
    assert_eq!(date(&site(&[]), "2013-04-10 02:00"), "2013-04-10");
}
