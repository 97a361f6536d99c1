//! The same weather and the engine's days as files, for the peer.

use std::fs::File;
use std::io::{BufWriter, Error, Write};

use chrono::{Datelike, NaiveDate};
use fairseam::season::{Engine, Hold, SeasonDay, sun_over};
use serde_json::{Value, json};

use crate::real::Real;
use crate::{Wanted, resample, sites, years};

/// Writes `weather.f64` (little-endian columns, site by site and year by year), `days.csv` (what the
/// engine says) and `case.json` (what stands where).
pub(crate) fn emit(real: &Real, wanted: &Wanted) -> std::io::Result<Value> {
    let folder = wanted.folder.as_deref().ok_or_else(|| Error::other("which folder?"))?;
    std::fs::create_dir_all(folder)?;
    let mut weather = BufWriter::new(File::create(folder.join("weather.f64"))?);
    let mut days = BufWriter::new(File::create(folder.join("days.csv"))?);
    writeln!(days, "site,date,covered,{},begins_wet,tests", Hold::ALL.map(Hold::name).join(","))?;
    let mut blocks = Vec::new();
    for number in 0..wanted.sites {
        let roof = sites::site(number);
        let zone = roof.time_zone.ok_or_else(|| Error::other("no zone"))?;
        for year in years(wanted.years) {
            let columns = resample::year(real, number, year);
            for column in columns.all() {
                for value in column {
                    weather.write_all(&value.to_le_bytes())?;
                }
            }
            let series = columns.forecast();
            let sun = sun_over(series.first(), series.last());
            let first = NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or_default();
            let dates = first
                .iter_days()
                .take_while(|date| date.year() == year)
                .filter(|date| roof.shift.workdays.contains(&date.weekday()));
            let mut result = Ok(());
            Engine::new(&roof, zone).days(&series, sun, dates, |day, tests| {
                let tests: Vec<String> =
                    tests.iter().map(|test| format!("{}:{}", test.minute, test.cause)).collect();
                let written = write_day(&mut days, number, &day, &tests.join(" "));
                if result.is_ok() {
                    result = written;
                }
            });
            result?;
            blocks.push(json!({
                "site": number,
                "year": year,
                "first": columns.first.to_rfc3339(),
                "hours": columns.hours(),
            }));
        }
    }
    let roofs: Vec<Value> = (0..wanted.sites).map(place).collect();
    let case = json!({ "sites": roofs, "blocks": blocks });
    std::fs::write(folder.join("case.json"), case.to_string())?;
    Ok(
        json!({ "folder": folder.to_string_lossy(), "blocks": case["blocks"].as_array().map(Vec::len) }),
    )
}

fn place(number: usize) -> Value {
    let roof = sites::site(number);
    json!({
        "latitude_deg": roof.latitude_deg,
        "longitude_deg": roof.longitude_deg,
        "elevation_m": roof.elevation.map(|height| height.meters()),
        "time_zone": roof.time_zone.map(|zone| zone.name()),
        "color": format!("{:?}", roof.sheet.optics.color).to_lowercase(),
    })
}

fn write_day(
    out: &mut impl Write,
    site: usize,
    day: &SeasonDay,
    tests: &str,
) -> std::io::Result<()> {
    let Some(workday) = day.workday else {
        return writeln!(out, "{site},{},0,,,,,,,", day.date);
    };
    let held = Hold::ALL.map(|hold| workday.held.of(hold).to_string()).join(",");
    writeln!(out, "{site},{},1,{held},{},{tests}", day.date, u8::from(workday.begins_wet))
}
