//! The two real years that the bench's weather is drawn from, day by day.
//!
//! Newark 2013 and Chicago O'Hare 2015; tests/fixtures/README.md names their origins.

use std::io::Read;
use std::path::Path;

/// One hour as far as the engine looks at it. What blows and falls is of the hour that begins.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RealHour {
    pub(crate) air_c: f64,
    pub(crate) dew_point_c: f64,
    pub(crate) wind_m_s: f64,
    /// Not a number where none is told.
    pub(crate) gust_m_s: f64,
    pub(crate) sea_level_hpa: f64,
    pub(crate) rain_mm: f64,
}

/// A UTC day without a hole.
pub(crate) struct RealDay {
    /// Day of the year, from 1.
    pub(crate) ordinal: usize,
    pub(crate) hours: [RealHour; 24],
}

/// A UTC day's cloud in percent.
pub(crate) struct CloudDay {
    pub(crate) ordinal: usize,
    pub(crate) percent: [f64; 24],
}

/// A station's year.
pub(crate) struct Station {
    pub(crate) days: Vec<RealDay>,
}

/// All that the resampler draws from.
pub(crate) struct Real {
    /// Newark, O'Hare.
    pub(crate) stations: [Station; 2],
    /// O'Hare's: Newark's file has none.
    pub(crate) clouds: Vec<CloudDay>,
}

const HOURS: usize = 366 * 24;

type Column = Vec<Option<f64>>;

#[derive(Default)]
struct Columns {
    air: Column,
    dew_point: Column,
    wind: Column,
    gust: Column,
    pressure: Column,
    rain: Column,
    cloud: Column,
}

impl Columns {
    fn empty() -> Self {
        let column = || vec![None; HOURS];
        Self {
            air: column(),
            dew_point: column(),
            wind: column(),
            gust: column(),
            pressure: column(),
            rain: column(),
            cloud: column(),
        }
    }
}

impl Real {
    /// Reads both from the fixtures folder.
    pub(crate) fn read(fixtures: &Path) -> std::io::Result<Self> {
        let newark = newark(&std::fs::read_to_string(fixtures.join("ewr2013.csv"))?);
        let packed = std::fs::read(fixtures.join("years/725300-2015.gz"))?;
        let mut text = String::new();
        flate2::read::GzDecoder::new(packed.as_slice()).read_to_string(&mut text)?;
        let chicago = chicago(&text);
        let clouds = cloud_days(&chicago.cloud);
        Ok(Self { stations: [days(newark), days(chicago)], clouds })
    }
}

/// By the columns of the neutral CSV; what falls or blows moves to the hour in which it did.
fn newark(text: &str) -> Columns {
    let mut columns = Columns::empty();
    for line in text.lines().skip(1) {
        let fields: Vec<&str> = line.split(',').collect();
        let stamp = fields[0];
        let part = |range: std::ops::Range<usize>| stamp[range].parse::<usize>().unwrap_or(0);
        if part(0..4) != 2013 {
            continue;
        }
        let at = (ordinal(2013, part(5..7), part(8..10)) - 1) * 24 + part(11..13);
        let number = |index: usize| fields[index].parse::<f64>().ok();
        let celsius = |fahrenheit: f64| (fahrenheit - 32.0) / 1.8;
        let m_s = |mph: f64| mph * 0.44704;
        columns.air[at] = number(1).map(celsius);
        columns.dew_point[at] = number(2).map(celsius);
        columns.wind[at] = number(4).map(m_s);
        columns.pressure[at] = number(7);
        if let Some(before) = at.checked_sub(1) {
            columns.gust[before] = number(5).map(m_s);
            columns.rain[before] = number(6).map(|inches| inches * 25.4);
        }
    }
    columns
}

/// ISD-Lite: tenths, -9999 for nothing, -1 for a trace of rain, oktas of cloud.
fn chicago(text: &str) -> Columns {
    let mut columns = Columns::empty();
    for line in text.lines() {
        let numbers: Vec<i32> = line.split_whitespace().flat_map(str::parse).collect();
        let [_, month, day, hour, air, dew_point, pressure, _, wind, sky, rain, _] = numbers[..]
        else {
            continue;
        };
        let whole = |number: i32| usize::try_from(number).unwrap_or(0);
        let at = (ordinal(2015, whole(month), whole(day)) - 1) * 24 + whole(hour);
        let tenths = |value: i32| (value != -9999).then_some(f64::from(value) / 10.0);
        columns.air[at] = tenths(air);
        columns.dew_point[at] = tenths(dew_point);
        columns.wind[at] = tenths(wind);
        columns.pressure[at] = tenths(pressure);
        columns.cloud[at] = (0..=8).contains(&sky).then_some(f64::from(sky) * 12.5);
        if let Some(before) = at.checked_sub(1) {
            columns.rain[before] = tenths(rain).map(|rain| rain.max(0.0));
        }
    }
    columns
}

fn ordinal(year: i32, month: usize, day: usize) -> usize {
    let february = if year % 4 == 0 { 29 } else { 28 };
    let months = [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    months[..month - 1].iter().sum::<usize>() + day
}

/// The days in which every hour has its air; of the rest the last known value holds.
fn days(columns: Columns) -> Station {
    let held = |column: &Column, first: f64| {
        let mut last = first;
        column
            .iter()
            .map(|value| *value.inspect(|value| last = *value).get_or_insert(last))
            .collect()
    };
    let dew_point: Vec<f64> = held(&columns.dew_point, 0.0);
    let wind: Vec<f64> = held(&columns.wind, 3.0);
    let pressure: Vec<f64> = held(&columns.pressure, 1013.0);
    let of_day = |day: usize| -> Option<RealDay> {
        let hours: Vec<RealHour> = (24 * day..24 * day + 24)
            .map(|at| {
                let air_c = columns.air[at]?;
                Some(RealHour {
                    air_c,
                    dew_point_c: dew_point[at].min(air_c),
                    wind_m_s: wind[at],
                    gust_m_s: columns.gust[at].unwrap_or(f64::NAN),
                    sea_level_hpa: pressure[at],
                    rain_mm: columns.rain[at].unwrap_or(0.0),
                })
            })
            .collect::<Option<_>>()?;
        Some(RealDay { ordinal: day + 1, hours: hours.try_into().ok()? })
    };
    Station { days: (0..HOURS / 24).filter_map(of_day).collect() }
}

/// The days with at least eight codes, so that no guess lasts long; between codes the last holds.
fn cloud_days(cloud: &Column) -> Vec<CloudDay> {
    let of_day = |(day, hours): (usize, &[Option<f64>])| {
        (hours.iter().flatten().count() >= 8).then_some(())?;
        let mut last = hours.iter().flatten().next().copied()?;
        let mut percent = [0.0; 24];
        for (into, value) in percent.iter_mut().zip(hours) {
            last = value.unwrap_or(last);
            *into = last;
        }
        Some(CloudDay { ordinal: day + 1, percent })
    };
    cloud.chunks_exact(24).enumerate().filter_map(of_day).collect()
}
