//! Whole days against a second program: observed weather of ten days, four colors of sheet.
//!
//! `tests/reference/whole_days.py` works the same days with pvlib, MetPy and scipy, minute by minute;
//! weather and results stand in `fixtures/reference/whole_days/`. What a foreman would expect of
//! each day stands in `EXPECTED`, read off its weather.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::physics::surface::Band;
use fairseam::plan::{Cause, DayPlan, PlanInput, Reason, Roof, Verdict, plan_day};
use fairseam::site::Site;
use fairseam::testweld::NoRecords;
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{minutes, site};

const COLORS: [&str; 4] = ["white", "gray", "tan", "black"];

/// What the weather of a day lets one expect of a white sheet: (day, wet at seven, dries before the
/// shift ends, holds for rain, cold care, heat care).
const EXPECTED: &[(&str, bool, bool, bool, bool, bool)] = &[
    // -20 °C at dawn, -12 °C at best, air 6 K and more above its dew point, wind all night.
    ("clear-cold", false, false, false, true, false),
    // 0 °C at dawn, dew point 0.5 to 1.2 K below for nine clear hours, then 10 °C and dry air.
    ("frost-dawn", true, true, false, true, false),
    // 18 to 31 °C with a dew point 4 to 20 K below and wind all night: heat index below 90 °F.
    ("clear-hot", false, false, false, false, false),
    // 21 °C at dawn, calm, clear, dew point 1 K below; 31 °C and a dew point of 22 °C at noon.
    ("dew-dawn", true, true, false, false, true),
    // -2 to 1 °C before dawn, calm and clear, dew point 1 to 3 K below.
    ("calm-frost", true, true, false, true, false),
    // Rain in the night and until eleven; from 13:00 the air is dry and the wind fresh.
    ("rain-then-sun", true, true, true, false, false),
    // Rain in the night and until ten; overcast, moist and 4 to 7 °C all day.
    ("rain-then-gray", true, false, true, true, false),
    // Overcast and dry, 5 m/s all night, 7 to 10 °C.
    ("overcast", false, false, false, false, false),
    // Rain from seven until noon, 11 m/s at ten, then moist air.
    ("windy-front", true, false, true, false, false),
    // A shower at five, mild and clear, strong sun from nine.
    ("wet-morning", true, true, false, false, false),
];

type Row = BTreeMap<String, String>;

fn table(name: &str) -> Vec<Row> {
    let folder = "tests/fixtures/reference/whole_days";
    let path = format!("{}/{folder}/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(&path).unwrap();
    reader.deserialize().map(Result::unwrap).collect()
}

fn number(row: &Row, column: &str) -> Option<f64> {
    let text = &row[column];
    (!text.is_empty()).then(|| text.parse().unwrap())
}

fn instant(text: &str) -> DateTime<Utc> {
    DateTime::parse_from_rfc3339(text).unwrap().to_utc()
}

fn hour(row: &Row) -> Hour {
    Hour {
        air: number(row, "air_c").map(Temperature::from_celsius),
        dew_point: number(row, "dew_point_c").map(Temperature::from_celsius),
        wind: number(row, "wind_m_s").map(WindSpeed::from_meters_per_second),
        cloud_cover_pct: number(row, "cloud_pct"),
        sea_level_pressure_hpa: number(row, "sea_level_pressure_hpa"),
        surface_pressure_hpa: number(row, "surface_pressure_hpa"),
        rain: number(row, "rain_mm")
            .map(|depth| HourSum::of_one_hour(RainDepth::from_millimeters(depth))),
        shortwave_w_m2: number(row, "shortwave_w_m2"),
        ..Hour::unknown(instant(&row["time"]))
    }
}

/// A day of the tables with the forecast that its weather makes.
struct Day {
    row: Row,
    forecast: Forecast,
}

/// Every day with its plans, one for each of [`COLORS`]; worked once for all tests.
static DAYS: LazyLock<Vec<(Day, [DayPlan; 4])>> = LazyLock::new(|| {
    let days = table("days").into_iter().map(Day::read);
    let days = days.map(|day| {
        let plans = COLORS.map(|color| day.plan(color));
        (day, plans)
    });
    days.collect()
});

/// Every plan of every day, with the day and the sheet's color.
fn plans() -> impl Iterator<Item = (&'static Day, &'static str, &'static DayPlan)> {
    assert_eq!(DAYS.len(), EXPECTED.len());
    DAYS.iter().flat_map(|(day, plans)| {
        COLORS.iter().zip(plans).map(move |(color, plan)| (day, *color, plan))
    })
}

impl Day {
    fn read(row: Row) -> Self {
        let hours: Vec<Hour> = table(&row["day"]).iter().map(hour).collect();
        let provenance = Provenance {
            source: "file".to_owned(),
            issued_at: None,
            fetched_at: hours[0].time,
            stale: false,
            attribution: String::new(),
            time_zone: None,
        };
        Self { row, forecast: Forecast::from_hours(provenance, hours).unwrap() }
    }

    fn name(&self) -> &str {
        &self.row["day"]
    }

    fn site(&self, color: &str) -> Site {
        let row = &self.row;
        let feet = (number(row, "elevation_m").unwrap() / 0.3048).to_string();
        site(&[
            ("latitude_deg", &row["latitude_deg"]),
            ("longitude_deg", &row["longitude_deg"]),
            ("elevation", &feet),
            ("time_zone", &format!("\"{}\"", row["zone"])),
            ("shift.start", &format!("\"{}\"", row["start"])),
            ("shift.end", &format!("\"{}\"", row["end"])),
            ("shift.breaks", "[]"),
            ("sheet.color", &format!("\"{color}\"")),
        ])
    }

    fn plan(&self, color: &str) -> DayPlan {
        let site = self.site(color);
        plan_day(&PlanInput {
            site: &site,
            time_zone: site.time_zone.unwrap(),
            date: self.row["date"].parse().unwrap(),
            now: self.forecast.first(),
            forecast: &self.forecast,
            earlier: &NoRecords { carry_days: 7 },
        })
        .unwrap()
    }
}

fn rows_of<'a>(table: &'a [Row], day: &Day, color: &str) -> Vec<&'a Row> {
    let rows: Vec<&Row> =
        table.iter().filter(|row| row["day"] == day.name() && row["color"] == color).collect();
    assert!(!rows.is_empty(), "{} {color}", day.name());
    rows
}

#[test]
fn sun_sky_and_sheet_of_every_hour() {
    let sheets = table("sheet");
    assert_eq!(sheets.len(), 360);
    const SECOND: &str =
        "a second program by pvlib, MetPy and scipy, tests/reference/whole_days.py";
    let mut suns = Proof::of(
        "sheet/days-sun",
        "Sun on the roof, ten observed days over four colors",
        SECOND,
        "hours",
        Allowed::absolute(1.0, "W/m²"),
    );
    let mut skies = Proof::of(
        "sheet/days-sky",
        "The sky's temperature, ten observed days over four colors",
        SECOND,
        "hours",
        Allowed::absolute(0.05, "K"),
    );
    let mut temperatures = Proof::of(
        "sheet/days-sheet",
        "The sheet's temperature, ten observed days over four colors",
        SECOND,
        "hours",
        Allowed::absolute(0.1, "K"),
    );
    for (day, color, plan) in plans() {
        for row in rows_of(&sheets, day, color) {
            let at = instant(&row["time"]);
            let label = || format!("{} {color} {at}", day.name());
            let moment = plan.course.iter().find(|moment| moment.time == at).unwrap();
            let sun = moment.radiation.unwrap().w_m2;
            // The cheap sun is 0.01° off at most, and a service's mean is spread by 20 samples.
            suns.near(sun, number(row, "sun_w_m2").unwrap(), label);
            let sky = moment.sky.unwrap().celsius();
            skies.near(sky, number(row, "sky_c").unwrap(), label);
            // 1 W/m² on a black sheet in still air is 0.1 K.
            let sheet = moment.sheet.unwrap().nominal.celsius();
            temperatures.near(sheet, number(row, "sheet_c").unwrap(), label);
        }
    }
    for proof in [suns, skies, temperatures] {
        proof.done();
    }
}

#[test]
fn the_water_from_the_evening_before() {
    let films = table("film");
    let mut proof = Proof::of(
        "water/days-film",
        "Water on the sheet, ten observed days over four colors",
        "a second program by MetPy and scipy, tests/reference/whole_days.py",
        "times",
        Allowed::absolute(0.006, "mm"),
    );
    for (day, color, plan) in plans() {
        let (site, start, end) = (day.site(color), plan.shift.start, plan.shift.end);
        let film = Roof::new(&site, &day.forecast, start, end).film(start, end, Band::Nominal);
        for row in rows_of(&films, day, color) {
            let at = instant(&row["time"]);
            let held = film.iter().find(|moment| moment.time == at).map(|m| m.depth);
            // Both begin dry, ours says so with its first step only.
            let got = held.map_or(0.0, RainDepth::millimeters);
            // MetPy's vapor pressure differs by 0.4 %, and steps of 5 minutes stand for 5 of 1.
            let expected = number(row, "depth_mm").unwrap();
            proof.near(got, expected, || format!("{} {color} {at}", day.name()));
        }
    }
    proof.done();
}

#[test]
fn the_hour_at_which_the_roof_is_dry() {
    let rules = table("rules");
    let mut proof = Proof::of(
        "water/days-dry",
        "When the roof is dry, ten observed days over four colors, for each that dries",
        "a second program by MetPy and scipy, tests/reference/whole_days.py",
        "times",
        Allowed::absolute(10.0, "min"),
    );
    for (day, color, plan) in plans() {
        let row = rows_of(&rules, day, color)[0];
        let label = format!("{} {color}", day.name());
        let dry = plan.summary.dry;
        match row["dry_from"].as_str() {
            "" => assert_eq!(dry, None, "{label}"),
            expected => {
                let dry = dry.unwrap_or_else(|| panic!("{label}: no dry time"));
                let off = (dry.from - instant(expected)).num_minutes();
                proof.near(off as f64, 0.0, || label.clone());
                assert!(dry.earliest <= dry.from, "{label}");
                assert!(dry.latest.is_none_or(|latest| latest >= dry.from), "{label}");
                let Some(first) = plan.checkpoints.first() else {
                    // Dry in the last half hour of the shift: too late for a test.
                    assert!(plan.shift.end - dry.from <= TimeDelta::minutes(30), "{label}");
                    continue;
                };
                assert_eq!((&*first.id, first.time), ("after-hold-1", dry.from), "{label}");
                let opens = matches!(first.cause, Cause::AfterHold { opens_the_day: true, .. });
                assert!(opens, "{label}: {:?}", first.cause);
            }
        }
    }
    proof.done();
}

#[test]
fn the_minutes_of_every_rule() {
    let mut proof = Proof::of(
        "plan/days-rules",
        "Minutes that each rule speaks, ten observed days over four colors",
        "a second program by pvlib, MetPy and scipy, tests/reference/whole_days.py",
        "sums",
        Allowed::Each("none where weather alone decides; dark 1 min; dew, water, heat 10 min"),
    );
    let rules = table("rules");
    for (day, color, plan) in plans() {
        let row = rows_of(&rules, day, color)[0];
        let of = |wanted: fn(&Reason) -> bool| minutes(plan, wanted);
        let of_verdict = |wanted: Verdict| -> i64 {
            let spans = plan.spans.iter().filter(|span| span.verdict == wanted);
            spans.map(|span| (span.end - span.start).num_minutes()).sum()
        };
        // How far each may be off. Exact where only the weather decides. A film ends on a step of
        // 5 minutes. 0.1 K of dew point and sheet move a slow margin by some minutes.
        let found = [
            ("rain", of(|reason| matches!(reason, Reason::Rain { .. })), 0),
            ("wet", of(|reason| matches!(reason, Reason::WetSheet { .. })), 10),
            ("wind_stop", of(|reason| matches!(reason, Reason::WindStop { .. })), 0),
            ("dew", of(|reason| matches!(reason, Reason::DewNear { .. })), 10),
            ("cold", of(|reason| matches!(reason, Reason::Cold { .. })), 0),
            ("gust", of(|reason| matches!(reason, Reason::Gust { .. })), 0),
            ("shield", of(|reason| matches!(reason, Reason::WindShield { .. })), 0),
            ("heat", of(|reason| matches!(reason, Reason::Heat { .. })), 10),
            ("dark", of(|reason| matches!(reason, Reason::Dark)), 1),
            ("hold", of_verdict(Verdict::Hold), 10),
            ("care", of_verdict(Verdict::Care), 10),
        ];
        for (rule, got, allowed) in found {
            let expected = number(row, rule).unwrap();
            let label = || format!("{} {color} {rule}", day.name());
            proof.within(got as f64, expected, f64::from(allowed), label);
        }
    }
    proof.done();
}

#[test]
fn what_a_foreman_expects_of_each_day() {
    let mut proof = Proof::of(
        "plan/days-foreman",
        "Wet at the start, dries in time, held for rain, cold, hot",
        "what the observed weather of ten days lets one expect, by hand",
        "days",
        Allowed::Nothing,
    );
    for ((day, plans), &(name, wet, dries, rains, cold, hot)) in DAYS.iter().zip(EXPECTED) {
        assert_eq!(day.name(), name);
        let [plan, gray, tan, black] = plans;
        let of = |wanted: fn(&Reason) -> bool| minutes(plan, wanted) > 0;
        let first = &plan.spans[0];
        let wet_at_start = first
            .reasons
            .iter()
            .any(|reason| matches!(reason, Reason::WetSheet { .. } | Reason::Rain { .. }));
        let found = [
            wet_at_start,
            plan.summary.dry.is_some(),
            of(|reason| matches!(reason, Reason::Rain { .. })),
            of(|reason| matches!(reason, Reason::Cold { .. })),
            of(|reason| matches!(reason, Reason::Heat { .. })),
        ];
        proof.same(&found, &[wet, dries, rains, cold, hot], || format!("{name}: {first:?}"));
        // The darker the sheet, the sooner it is dry.
        let dry = [plan, tan, gray, black].map(|plan| plan.summary.dry.map(|dry| dry.from));
        for pair in dry.windows(2).filter(|pair| pair[0].is_some()) {
            let sooner = pair[1].is_some_and(|darker| Some(darker) <= pair[0]);
            assert!(sooner, "{name}: {dry:?}");
        }
    }
    proof.done();
}

#[test]
fn a_night_of_which_the_sky_is_unknown_has_no_film_and_says_so() {
    let row = table("days").into_iter().find(|row| row["day"] == "frost-dawn").unwrap();
    let mut day = Day::read(row);
    let hours = day.forecast.hours().iter().map(|hour| Hour {
        // Two hours side by side without a sky code, as the station often leaves them.
        cloud_cover_pct: hour.cloud_cover_pct.filter(|_| {
            let into = hour.time - day.forecast.first();
            into < TimeDelta::hours(5) || into > TimeDelta::hours(6)
        }),
        ..*hour
    });
    let hours: Vec<Hour> = hours.collect();
    day.forecast = Forecast::from_hours(day.forecast.provenance.clone(), hours).unwrap();
    let plan = day.plan("white");
    assert_eq!(minutes(&plan, |reason| matches!(reason, Reason::WetSheet { .. })), 0);
    assert_eq!(plan.summary.dry, None);
    assert!(plan.notes.contains(&fairseam::plan::Note::FilmUnknown), "{:?}", plan.notes);
}
