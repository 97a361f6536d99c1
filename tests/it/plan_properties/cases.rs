//! Sites, days and weather to plan, drawn so that the hard cases come often.

use chrono::{DateTime, Datelike, NaiveDate, NaiveDateTime, Offset, TimeDelta, TimeZone, Utc};
use chrono_tz::{TZ_VARIANTS, Tz};
use fairseam::site::{self, Site};
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// Hours of weather around the start of the local day, either way enough for any zone and shift.
const HOURS: usize = 84;

/// What the weather has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sky {
    /// Air alone: nothing holds the welding, and the sheet is unknown.
    AirAlone,
    /// Sun, wind, dew point and rain as well, and now and then an hour without air.
    Full,
}

/// One case.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    pub(crate) zone: Tz,
    pub(crate) date: NaiveDate,
    pub(crate) latitude_deg: f64,
    metric: bool,
    shift_start: u32,
    shift_minutes: u32,
    /// Minutes of work before each break, and its own.
    breaks: Vec<(u32, u32)>,
    rules: [u32; 6],
    welders: Vec<(bool, u32)>,
    sky: Sky,
    mean_c: f64,
    swing_c: f64,
    noise_c: Vec<f64>,
    wet: bool,
    /// From 0 to 19, for each hour: whether it rains, whether its air is missing.
    luck: Vec<u8>,
}

/// Cases under `sky`.
pub(crate) fn cases(sky: Sky) -> impl Strategy<Value = Case> {
    // Names that look like a zone with summer time and are none are refused in a site file.
    let refused = [Tz::EST, Tz::MST];
    let zones: Vec<Tz> = TZ_VARIANTS.into_iter().filter(|zone| !refused.contains(zone)).collect();
    let year = prop_oneof![2005..2035i32, 1970..=2100i32];
    let when = (select(zones), year, any::<Index>(), 0..4u8);
    let start = prop_oneof![0..1440u32, 1200..1320u32, 0..180u32];
    let shift = (start, 120..840u32, vec((5..200u32, 1..70u32), 0..4));
    let latitude = prop_oneof![-65.0..65.0, -89.9..89.9, 66.6..89.9];
    // Ambient change, shortest break, merging, last test, longest time between, shift of the heat.
    let rules = [2..20u32, 5..20, 0..60, 0..60, 1..8, 5..60];
    let welders = vec((any::<bool>(), 0..4u32), 1..5);
    let mean = prop_oneof![0.0..25.0, -45.0..45.0];
    let air = (mean, -12.0..12.0, vec(-1.5..1.5, HOURS), 0..3u8, vec(0..20u8, HOURS));
    (when, latitude, any::<bool>(), shift, rules, welders, air).prop_map(
        move |(when, latitude_deg, metric, mut shift, rules, welders, air)| {
            // One time in four a break lies across two in the morning, when most clocks go back.
            if when.3 == 3 {
                shift = (shift.0 % 60, shift.1, vec![(75, 45)]);
            }
            Case {
                zone: when.0,
                date: a_day(when, shift.0),
                latitude_deg,
                metric,
                shift_start: shift.0,
                shift_minutes: shift.1,
                breaks: shift.2,
                rules,
                welders,
                sky,
                mean_c: air.0,
                swing_c: air.1,
                noise_c: air.2,
                wet: air.3 == 0,
                luck: air.4,
            }
        },
    )
}

/// A day of a year: three times of four one on which the clock changes where the zone has any, or
/// its eve for a shift that starts in the evening.
fn a_day((zone, year, index, luck): (Tz, i32, Index, u8), shift_start: u32) -> NaiveDate {
    let first = NaiveDate::from_yo_opt(year, 1).unwrap();
    let days: Vec<NaiveDate> = first.iter_days().take_while(|day| day.year() == year).collect();
    let offset = |day: NaiveDate| {
        let local = zone.from_local_datetime(&day.and_hms_opt(12, 0, 0).unwrap()).latest();
        local.map(|noon| noon.offset().fix().local_minus_utc())
    };
    let changing: Vec<NaiveDate> = days
        .iter()
        .copied()
        .filter(|day| luck > 0 && offset(*day - TimeDelta::days(1)) != offset(*day))
        .collect();
    if changing.is_empty() {
        return *index.get(&days);
    }
    *index.get(&changing) - TimeDelta::days(i64::from(shift_start >= 1200))
}

impl Case {
    /// The site file.
    pub(crate) fn toml(&self) -> String {
        let clock = |minute: u32| format!("{:02}:{:02}", minute / 60 % 24, minute % 60);
        let mut breaks = Vec::new();
        let mut from = 0;
        for (number, (work, length)) in self.breaks.iter().enumerate() {
            let start = from + work;
            from = start + length;
            if from <= self.shift_minutes {
                let start = clock(self.shift_start + start);
                breaks.push(format!(
                    "{{ name = \"b{}\", start = \"{start}\", minutes = {length} }}",
                    number % 2
                ));
            }
        }
        let [change, shortest, merge, last, longest, heat] = self.rules;
        let (units, thickness, low, max, step) =
            if self.metric { ("metric", 1.5, 350, 600, 40) } else { ("us", 60.0, 650, 1130, 80) };
        let mut text = format!(
            "name = \"generated\"\nlatitude_deg = {}\nlongitude_deg = 10\ntime_zone = \"{}\"\n\
             units = \"{units}\"\n[shift]\nstart = \"{}\"\nend = \"{}\"\nbreaks = [{}]\n\
             [sheet]\npolymer = \"tpo\"\nthickness = {thickness}\n\
             [rules]\nambient_change = {change}\nbreak_needs_test_minutes = {shortest}\n\
             merge_within_minutes = {merge}\nlast_test_before_end_minutes = {last}\n\
             max_hours_between = {longest}.5\nsheet_shift_heat = {heat}\n",
            self.latitude_deg,
            self.zone.name(),
            clock(self.shift_start),
            clock(self.shift_start + self.shift_minutes),
            breaks.join(", "),
        );
        for (number, (automatic, choice)) in self.welders.iter().enumerate() {
            text.push_str(&format!(
                "[[welders]]\nname = \"w{number}\"\nheat_low = {}\nheat_max = {max}\n\
                 heat_step = {step}\n",
                low + 10 * choice
            ));
            text.push_str(&if *automatic {
                format!(
                    "kind = \"automatic\"\nspeed_min = {}\nspeed_max = {}\n",
                    1 + choice,
                    6 + choice
                )
            } else {
                "kind = \"hand\"\n".to_owned()
            });
        }
        text
    }

    /// The site as loaded.
    pub(crate) fn site(&self) -> Site {
        let text = self.toml();
        site::load(&text, "generated.toml").unwrap_or_else(|faults| panic!("{faults}\n{text}")).site
    }

    /// The weather.
    pub(crate) fn forecast(&self) -> Forecast {
        let midnight: NaiveDateTime = self.date.and_hms_opt(0, 0, 0).unwrap();
        let first = midnight.and_utc() - TimeDelta::hours(26);
        let rows = (0..HOURS).map(|n| self.hour(first + TimeDelta::hours(n as i64), n)).collect();
        let provenance = Provenance {
            source: "file".to_owned(),
            issued_at: None,
            fetched_at: first,
            stale: false,
            attribution: "invented".to_owned(),
            time_zone: None,
        };
        Forecast::from_hours(provenance, rows).unwrap()
    }

    fn hour(&self, time: DateTime<Utc>, n: usize) -> Hour {
        let phase = n as f64 / 24.0 * std::f64::consts::TAU;
        let air_c = self.mean_c + self.swing_c * phase.sin() + self.noise_c[n];
        let mut hour = Hour { air: Some(Temperature::from_celsius(air_c)), ..Hour::unknown(time) };
        if self.sky == Sky::AirAlone {
            return hour;
        }
        // Never two missing hours together: they would be a gap, and there is no plan over a gap.
        let missing = self.luck[n] == 1 && n % 3 == 1;
        hour.air = hour.air.filter(|_| !missing);
        let rain = if self.wet && self.luck[n] >= 18 { 2.0 } else { 0.0 };
        hour.rain = Some(HourSum::of_one_hour(RainDepth::from_millimeters(rain)));
        hour.dew_point = Some(Temperature::from_celsius(air_c - 7.0));
        hour.wind = Some(WindSpeed::from_meters_per_second(3.0 + f64::from(self.luck[n] % 5)));
        hour.shortwave_w_m2 = Some((700.0 * phase.sin()).max(0.0));
        hour.cloud_cover_pct = Some(f64::from(self.luck[n] % 11) * 10.0);
        hour
    }
}
