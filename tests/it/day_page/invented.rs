//! Invented sites and weathers for the page's tests; the planner itself makes the plans.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc, Weekday};
use chrono_tz::Tz;
use fairseam::plan::{DayPlan, PlanInput, plan_day};
use fairseam::site::{
    Break, Color, Kind, Optics, Polymer, Reminders, Rules, Sheet, Shift, Site, SourceName,
    WeatherSettings, Welder,
};
use fairseam::testweld::{ByHand, EarlierWindows, NoRecords};
use fairseam::units::{
    BondWidth, Length, RainDepth, Temperature, TemperatureDifference, Thickness, TravelSpeed,
    UnitSystem, WindSpeed,
};
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};
use fairseam::words::Language;

/// A site, a day and its weather, each part to be changed by a test.
pub(super) struct Invented {
    pub(super) site: Site,
    pub(super) zone: Tz,
    pub(super) date: NaiveDate,
    pub(super) provenance: Provenance,
    pub(super) now: DateTime<Utc>,
    /// The weather of an hour, by its start.
    pub(super) hour: fn(&Invented, Hour) -> Hour,
    pub(super) center: Option<Temperature>,
}

impl Invented {
    /// A bright April day on the plains, 07:00 to 15:30: dew at dawn, gusts after noon.
    pub(super) fn april() -> Self {
        Self {
            site: site(),
            zone: chrono_tz::America::Chicago,
            date: NaiveDate::from_ymd_opt(2027, 4, 21).unwrap(),
            provenance: provenance(),
            now: utc("2027-04-20T23:00:00Z"),
            hour: april_hour,
            center: None,
        }
    }

    pub(super) fn plan(&self) -> DayPlan {
        let start = self.date.and_time(NaiveTime::MIN).and_utc() - TimeDelta::hours(12);
        let hours = (0..60).map(|n| (self.hour)(self, Hour::unknown(start + TimeDelta::hours(n))));
        let forecast = Forecast::from_hours(self.provenance.clone(), hours.collect()).unwrap();
        let carry_days = self.site.rules.carry_days;
        let by_hand = self.center.map(|center| ByHand {
            center,
            speed: Some(TravelSpeed::from_feet_per_minute(7.0)),
            sheet: Some(Temperature::from_fahrenheit(60.0)),
            welder: None,
            site_has_automatic: true,
            carry_days,
        });
        let none = NoRecords { carry_days };
        let earlier: &dyn EarlierWindows = match &by_hand {
            Some(by_hand) => by_hand,
            None => &none,
        };
        let (time_zone, date, now) = (self.zone, self.date, self.now);
        let input =
            PlanInput { site: &self.site, time_zone, date, now, forecast: &forecast, earlier };
        plan_day(&input).unwrap()
    }

    /// Hours by the wall clock since midnight of the day.
    pub(super) fn clock_hour(&self, at: DateTime<Utc>) -> f64 {
        let local = at.with_timezone(&self.zone).naive_local();
        (local - self.date.and_time(NaiveTime::MIN)).num_minutes() as f64 / 60.0
    }

    pub(super) fn shift(&mut self, start: &str, end: &str, breaks: &[(&str, &str, u32)]) {
        self.site.shift.start = time(start);
        self.site.shift.end = time(end);
        self.site.shift.breaks = breaks
            .iter()
            .map(|&(name, start, minutes)| Break {
                name: name.to_owned(),
                start: time(start),
                minutes,
            })
            .collect();
    }
}

pub(super) fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn time(text: &str) -> NaiveTime {
    NaiveTime::parse_from_str(text, "%H:%M").unwrap()
}

/// 42 °F at five, 76 °F at three, by a half wave; clear; gusts from noon on.
pub(super) fn april_hour(day: &Invented, mut hour: Hour) -> Hour {
    let clock = day.clock_hour(hour.time);
    let wave = ((clock - 5.0) / 10.0 * std::f64::consts::PI).cos();
    hour.air = Some(Temperature::from_fahrenheit(59.0 - 17.0 * wave));
    hour.dew_point = Some(Temperature::from_fahrenheit(41.0));
    hour.wind = Some(WindSpeed::from_miles_per_hour(if clock < 10.0 { 4.0 } else { 14.0 }));
    hour.gust = Some(WindSpeed::from_miles_per_hour(if clock < 12.0 { 9.0 } else { 27.0 }));
    hour.rain = Some(HourSum::of_one_hour(RainDepth::from_millimeters(0.0)));
    hour.cloud_cover_pct = Some(if clock < 11.0 { 10.0 } else { 45.0 });
    hour.thunder_named = Some(false);
    hour
}

/// Air and nothing else: no sheet can be told from it.
pub(super) fn air_alone(day: &Invented, hour: Hour) -> Hour {
    Hour { air: april_hour(day, hour).air, ..hour }
}

/// Rain in every hour.
pub(super) fn rain_all_day(day: &Invented, hour: Hour) -> Hour {
    let rain = HourSum::of_one_hour(RainDepth::from_millimeters(2.5));
    Hour { rain: Some(rain), cloud_cover_pct: Some(100.0), ..april_hour(day, hour) }
}

/// The same 50 °F from end to end.
pub(super) fn flat(_: &Invented, hour: Hour) -> Hour {
    Hour { air: Some(Temperature::from_fahrenheit(50.0)), ..hour }
}

/// -14 to -4 °C.
pub(super) fn deep_cold(day: &Invented, hour: Hour) -> Hour {
    let april = april_hour(day, hour);
    let warmer = april.air.unwrap().fahrenheit() - 42.0;
    let air = Temperature::from_celsius(-14.0 + warmer * 10.0 / 34.0);
    let dew_point = Some(Temperature::from_celsius(-22.0));
    Hour { air: Some(air), dew_point, ..april }
}

fn provenance() -> Provenance {
    Provenance {
        source: "met-norway".to_owned(),
        issued_at: Some(utc("2027-04-20T20:00:00Z")),
        fetched_at: utc("2027-04-20T22:45:00Z"),
        stale: false,
        attribution: "Data from MET Norway (https://api.met.no/), CC BY 4.0 \
                      (https://creativecommons.org/licenses/by/4.0/), converted"
            .to_owned(),
        time_zone: None,
    }
}

fn site() -> Site {
    use Weekday::{Fri, Mon, Thu, Tue, Wed};
    let fahrenheit = Temperature::from_fahrenheit;
    let automatic = Welder {
        name: "automatic 1".to_owned(),
        kind: Kind::Automatic,
        heat_low: fahrenheit(700.0),
        heat_max: fahrenheit(1150.0),
        heat_step: TemperatureDifference::from_fahrenheit(100.0),
        speed: Some((
            TravelSpeed::from_feet_per_minute(3.0),
            TravelSpeed::from_feet_per_minute(18.0),
        )),
        rated_watts: Some(5200.0),
        rated_volts: Some(230.0),
    };
    let hand = Welder {
        name: "detail gun".to_owned(),
        kind: Kind::Hand,
        heat_low: fahrenheit(600.0),
        heat_max: fahrenheit(1000.0),
        speed: None,
        ..automatic.clone()
    };
    let stop = |name: &str, start, minutes| Break { name: name.to_owned(), start, minutes };
    Site {
        name: "Prairie grain store, roof B".to_owned(),
        id: None,
        latitude_deg: 38.84,
        longitude_deg: -97.61,
        elevation: Some(Length::from_feet(1227.0)),
        time_zone: None,
        units: UnitSystem::Us,
        language: Language::En,
        shift: Shift {
            start: time("07:00"),
            end: time("15:30"),
            workdays: vec![Mon, Tue, Wed, Thu, Fri],
            breaks: vec![stop("coffee", time("09:30"), 15), stop("lunch", time("12:00"), 30)],
        },
        sheet: Sheet {
            polymer: Polymer::Tpo,
            thickness: Thickness::from_mils(60.0),
            optics: Optics {
                color: Color::Tan,
                aged: false,
                solar_reflectance: None,
                thermal_emittance: None,
            },
        },
        roll: fairseam::site::Roll::default(),
        welders: vec![automatic, hand],
        power: None,
        rules: rules(),
        weather: WeatherSettings {
            source: SourceName::MetNorway,
            contact: None,
            path: None,
            base_url: None,
            api_key: None,
            non_commercial: false,
        },
        reminders: Reminders { before_minutes: vec![15], evening_before: None, short_name: None },
        publish: fairseam::site::Publish::default(),
    }
}

fn rules() -> Rules {
    Rules {
        ambient_change: TemperatureDifference::from_fahrenheit(10.0),
        break_needs_test_minutes: 10,
        merge_within_minutes: 20,
        last_test_before_end_minutes: 30,
        trial_minutes: 10,
        max_hours_between: 5.0,
        speed_drift: TravelSpeed::from_feet_per_minute(1.0),
        carry_days: 7,
        rain_hold: RainDepth::from_millimeters(0.1),
        snow_hold: RainDepth::from_millimeters(0.1),
        cold_care: Temperature::from_fahrenheit(40.0),
        gust_care: WindSpeed::from_miles_per_hour(25.0),
        wind_shield: WindSpeed::from_miles_per_hour(20.0),
        wind_stop: WindSpeed::from_miles_per_hour(40.0),
        thunder_hold_pct: 40.0,
        thunder_clear_minutes: 30,
        dew_margin: TemperatureDifference::from_fahrenheit(5.0),
        film_dry: RainDepth::from_millimeters(0.02),
        heat_care: Temperature::from_fahrenheit(91.0),
        seal_minutes: 45,
        tell_after_minutes: 15,
        withdraw_after_forecasts: 2,
        sheet_shift_heat: None,
        standby_pct: 30.0,
        footage_target: Some(Length::from_feet(1200.0)),
        crew_size: None,
        crew_cost_per_hour: None,
        strip_min_width: BondWidth::from_inches(1.0),
        strip_target_width: BondWidth::from_inches(1.5),
        heat_increment: TemperatureDifference::from_fahrenheit(5.0),
    }
}
