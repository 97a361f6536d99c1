//! Plans for the calendar's tests, made by hand: no planning rule is at work here.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, TimeZone, Utc};
use fairseam::plan::{
    Advice, Cause, Checkpoint, DayPlan, Heats, Note, PlanWeather, Reason, Setting, ShiftSpan, Span,
    Summary, Trial, Verdict,
};
use fairseam::render::ics::{self, Revised};
use fairseam::site::Reminders;
use fairseam::store::{DayKey, Previous, revise};
use fairseam::testweld::{Origin, WhyFullRange};
use fairseam::units::{Temperature, TemperatureDifference, TravelSpeed, UnitSystem, WindSpeed};
use fairseam::words::Language;

pub(crate) fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

/// The moment of publishing in tests that do not care when it is.
pub(crate) fn now() -> DateTime<Utc> {
    utc("2013-04-08T21:30:00Z")
}

/// An instant on 2013-04-09 by New York's clock, which is four hours behind UTC in April.
fn at(hour: u32, minute: u32) -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2013, 4, 9, hour + 4, minute, 0).unwrap()
}

pub(crate) fn fahrenheit(degrees: f64) -> Temperature {
    Temperature::from_fahrenheit(degrees)
}

pub(crate) fn full_range(welder: &str, speed: Option<f64>) -> Setting {
    let speed = speed.map(TravelSpeed::from_feet_per_minute);
    let heats = [700.0, 800.0, 900.0, 1000.0, 1100.0].map(fahrenheit).to_vec();
    let kind = Heats::FullRange(WhyFullRange::NoRecord { carry_days: 7 });
    Setting {
        expected_center: None,
        heat_per_foot_per_minute: None,
        passed_over: Vec::new(),
        learned: None,
        welder: welder.to_owned(),
        start_speed: speed,
        speed_before_clamp: None,
        trial: Trial { speed_held: speed, heats, kind },
    }
}

pub(crate) fn bracket(welder: &str, speed: Option<f64>) -> Setting {
    let mut setting = full_range(welder, speed);
    setting.trial.heats = [825.0, 925.0, 1025.0].map(fahrenheit).to_vec();
    setting.trial.kind = Heats::Bracket {
        center: fahrenheit(925.0),
        record_speed: setting.start_speed,
        origin: Origin::ByHand,
        middle_moved: false,
    };
    setting
}

fn checkpoint(id: &str, time: DateTime<Utc>, cause: Cause, air: f64, speed: f64) -> Checkpoint {
    Checkpoint {
        sheet: None,
        center_shift: None,
        likelihood: None,
        id: id.to_owned(),
        time,
        cause,
        air: fahrenheit(air),
        change_since_last: None,
        last_time: None,
        minutes: 10,
        settings: vec![full_range("automatic 1", Some(speed))],
    }
}

fn checkpoints() -> Vec<Checkpoint> {
    let lunch = Cause::AfterBreak { name: "lunch".to_owned(), minutes: 30 };
    let mut change = checkpoint("change-1", at(8, 41), Cause::AmbientChange, 63.1, 8.0);
    change.change_since_last = Some(TemperatureDifference::from_fahrenheit(10.1));
    change.last_time = Some(at(7, 0));
    vec![
        checkpoint("start", at(7, 0), Cause::Start, 53.0, 7.0),
        change,
        checkpoint("after-lunch", at(12, 30), lunch, 78.4, 10.0),
    ]
}

fn weather() -> PlanWeather {
    PlanWeather {
        source: "file".to_owned(),
        issued_at: Some(utc("2013-04-08T20:00:00Z")),
        fetched_at: utc("2013-04-08T21:12:00Z"),
        age: TimeDelta::minutes(18),
        stale: false,
        attribution: "Weather record of a public airport station.".to_owned(),
        missing: Vec::new(),
        partly_missing: Vec::new(),
        bridged: Vec::new(),
        known_error: None,
    }
}

fn spans() -> Vec<Span> {
    let gusts = Reason::Gust { from: WindSpeed::from_miles_per_hour(25.0) };
    let weld = Span { start: at(7, 0), end: at(12, 0), verdict: Verdict::Weld, reasons: vec![] };
    let care =
        Span { start: at(12, 0), end: at(15, 30), verdict: Verdict::Care, reasons: vec![gusts] };
    vec![weld, care]
}

/// Three test welds on an April day.
pub(crate) fn plan() -> DayPlan {
    DayPlan {
        site: "Cold-store re-roof, east bay".to_owned(),
        site_id: None,
        latitude_deg: 40.6925,
        longitude_deg: -74.1687,
        units: UnitSystem::Us,
        language: Language::En,
        time_zone: chrono_tz::America::New_York,
        date: NaiveDate::from_ymd_opt(2013, 4, 9).unwrap(),
        workday: true,
        shift: ShiftSpan { start: at(7, 0), end: at(15, 30), breaks: Vec::new() },
        weather: weather(),
        summary: Summary {
            sheet: None,
            dry: None,
            tests: None,
            air_min: fahrenheit(53.1),
            air_max: fahrenheit(84.0),
            weldable: TimeDelta::minutes(465),
            first_weldable: Some(at(7, 0)),
            last_weldable: Some(at(15, 30)),
        },
        hours: Vec::new(),
        spans: spans(),
        checkpoints: checkpoints(),
        notes: vec![Note::SpeedClamped { welder: "automatic 1".to_owned() }],
        advice: vec![Advice::Gust],
        stand_by: Vec::new(),
        footage: None,
        course: Vec::new(),
    }
}

/// A day on which the weather holds the welding from end to end.
pub(crate) fn all_hold() -> DayPlan {
    let mut plan = plan();
    let cold = Reason::Cold { below: fahrenheit(40.0) };
    plan.checkpoints.clear();
    plan.spans = vec![Span {
        start: at(7, 0),
        end: at(15, 30),
        verdict: Verdict::Hold,
        reasons: vec![cold],
    }];
    plan.summary.weldable = TimeDelta::zero();
    (plan.summary.first_weldable, plan.summary.last_weldable) = (None, None);
    plan
}

pub(crate) fn reminders() -> Reminders {
    Reminders {
        before_minutes: vec![15, 0],
        evening_before: NaiveTime::from_hms_opt(18, 0, 0),
        short_name: None,
    }
}

/// The first publication of `plan`.
pub(crate) fn published(plan: &DayPlan, reminders: &Reminders) -> (Vec<Revised>, String) {
    let entries = ics::entries(plan, reminders);
    let (revised, _) =
        revise(&Previous::Unpublished, &DayKey::of(plan), &entries, plan.language, now());
    let text = ics::calendar(plan.language, &plan.site, &revised).unwrap();
    (revised, text)
}

/// Three events, one of them cancelled by a second publication.
pub(crate) fn republished_without_lunch() -> (Vec<Revised>, String) {
    let mut plan = plan();
    let key = DayKey::of(&plan);
    let (_, first) = revise(
        &Previous::Unpublished,
        &key,
        &ics::entries(&plan, &reminders()),
        Language::En,
        now(),
    );
    plan.checkpoints.retain(|checkpoint| checkpoint.id != "after-lunch");
    let later = now() + TimeDelta::hours(1);
    let entries = ics::entries(&plan, &reminders());
    let (revised, _) = revise(&Previous::Known(first), &key, &entries, Language::En, later);
    let text = ics::calendar(plan.language, &plan.site, &revised).unwrap();
    (revised, text)
}
