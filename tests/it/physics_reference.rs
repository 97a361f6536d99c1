//! Wide tables made by general libraries, read from `tests/fixtures/reference/`.
//!
//! `tests/reference/` holds the scripts, their pinned versions and the seed. Each test states how
//! far ours may be off and why.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use fairseam::physics::drying::{Film, FilmSheet, FilmWeather};
use fairseam::physics::ephemeris::Ephemeris;
use fairseam::physics::evaporation::{
    Combination, WetSheet, exchange, latent_heat_j_per_kg, penman_monteith_w_m2,
    psychrometric_hpa_per_k,
};
use fairseam::physics::humidity;
use fairseam::physics::optics::{Optics, Preset};
use fairseam::physics::radiation::{SunHour, haurwitz1945_w_m2};
use fairseam::physics::sky;
use fairseam::physics::sun::{Crossings, Line, Place, crossings, position};
use fairseam::physics::surface::{Band, Surroundings, sheet_temperature};
use fairseam::units::{Length, RainDepth, Temperature, WindSpeed};

/// One line of a table, by the names in its header.
struct Row(HashMap<String, String>);

impl Row {
    fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column `{column}`"))
    }

    fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap_or_else(|_| panic!("`{column}`: {}", self.text(column)))
    }

    fn known(&self, column: &str) -> Option<f64> {
        (!self.text(column).is_empty()).then(|| self.number(column))
    }

    fn celsius(&self, column: &str) -> Temperature {
        Temperature::from_celsius(self.number(column))
    }

    fn place(&self) -> Place {
        let altitude =
            if self.0.contains_key("altitude_m") { self.number("altitude_m") } else { 0.0 };
        let (latitude, longitude) = (self.number("latitude_deg"), self.number("longitude_deg"));
        Place::new(latitude, longitude, Length::from_meters(altitude)).unwrap()
    }

    fn surroundings(&self) -> Surroundings {
        Surroundings {
            air: self.celsius("air_c"),
            sky: self.celsius("sky_c"),
            shortwave_w_m2: self.number("shortwave_w_m2"),
        }
    }
}

/// Every row of a table, of which there must be `rows`.
fn table(name: &str, rows: usize) -> Vec<Row> {
    let path = format!("{}/tests/fixtures/reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(&path).unwrap();
    let read: Vec<Row> = reader.deserialize().map(|row| Row(row.unwrap())).collect();
    assert_eq!(read.len(), rows, "{path}");
    read
}

fn instant(text: &str) -> DateTime<Utc> {
    DateTime::parse_from_rfc3339(text).unwrap().to_utc()
}

#[test]
fn sun_positions_and_clear_skies_by_pvlib() {
    for row in table("sun_position", 300) {
        let (at, place) = (instant(row.text("time")), row.place());
        let sun = position(at, &place).unwrap();
        // SPA itself is good to 0.0003°; the clock's lag differs by seconds between the two.
        let off = (sun.elevation_deg - row.number("elevation_deg")).abs();
        assert!(off < 0.0005, "{at} {place:?}: {off}° of elevation");
        let turn = (sun.azimuth_deg - row.number("azimuth_deg") + 180.0).rem_euclid(360.0) - 180.0;
        let across = turn * sun.elevation_deg.to_radians().cos();
        assert!(across.abs() < 0.0005, "{at} {place:?}: {across}° of azimuth");
        let clear = haurwitz1945_w_m2(row.number("elevation_deg").to_radians().sin()).unwrap();
        assert!((clear - row.number("haurwitz_w_m2")).abs() < 1e-4, "{at}: {clear} W/m²");
        // The cheap path, also where height adds its parallax.
        let cheap = Ephemeris::covering(at, at).unwrap().sun_at(at, &place).unwrap();
        assert!((cheap.elevation_deg() - row.number("elevation_deg")).abs() < 0.01, "{at}");
    }
}

#[test]
fn clear_hours_by_pvlib() {
    let mut lit = 0;
    for row in table("clear_hour", 120) {
        let start = instant(row.text("start"));
        let ephemeris = Ephemeris::covering(start, start + TimeDelta::hours(1)).unwrap();
        let hour = SunHour::new(&ephemeris, &row.place(), start).unwrap();
        let (got, expected) = (hour.clear_mean_w_m2(), row.number("mean_w_m2"));
        // 0.01° of elevation is at most 0.2 W/m²; twenty samples cost less.
        assert!((got - expected).abs() < 0.2, "{start}: {got}, not {expected}");
        lit += usize::from(expected > 1.0);
    }
    assert!(lit > 40, "{lit}");
}

#[test]
fn rises_and_sets_by_pvlib_from_pole_to_pole() {
    let minutes = |text: &str| -> Vec<f64> {
        text.split_whitespace().map(|minute| minute.parse().unwrap()).collect()
    };
    for row in table("sun_day", 180) {
        let date: NaiveDate = row.text("date").parse().unwrap();
        let from = date.and_time(NaiveTime::MIN).and_utc();
        let line = match row.text("line") {
            "horizon" => Line::Horizon,
            _ => Line::CivilTwilight,
        };
        let found = crossings(from, from + TimeDelta::hours(24), &row.place(), line).unwrap();
        match (row.text("state"), found) {
            ("above", Crossings::AlwaysAbove) | ("below", Crossings::AlwaysBelow) => {}
            ("crosses", Crossings::RisesAndSets { rises, sets }) => {
                for (column, events) in [("rise_minutes", rises), ("set_minutes", sets)] {
                    let expected = minutes(row.text(column));
                    assert_eq!(events.len(), expected.len(), "{date} {:?} {column}", row.place());
                    for (event, minute) in events.iter().zip(expected) {
                        let off_s =
                            (*event - from).num_milliseconds() as f64 / 1000.0 - minute * 60.0;
                        // The sun may graze the line: then half a minute is 0.01°.
                        assert!(off_s.abs() < 30.0, "{date} {:?} {column}: {off_s} s", row.place());
                    }
                }
            }
            (expected, found) => panic!("{date} {:?}: {expected}, found {found:?}", row.place()),
        }
    }
}

#[test]
fn humidity_by_metpy() {
    for row in table("humidity", 300) {
        let (air, share) = (row.celsius("air_c"), row.number("humidity_pct"));
        let saturation = humidity::saturation_over_water_hpa(air).unwrap();
        let off = (saturation / row.number("saturation_hpa") - 1.0).abs();
        // Two fits: 0.4 % claimed, 0.7 % at 50 °C; below -20 °C supercooled water is hard to measure.
        let allowed = if air.celsius() < -20.0 { 0.015 } else { 0.007 };
        assert!(off < allowed, "{air:?}: {off}");
        let dew = humidity::dew_point(air, share).unwrap();
        for (column, allowed) in [("dew_point_c", 0.15), ("dew_point_bolton_c", 0.35)] {
            let off = (dew.celsius() - row.number(column)).abs();
            assert!(off < allowed, "{air:?} {share} %: {off} K of {column}");
        }
        let back = humidity::relative_humidity_pct(air, row.celsius("dew_point_c")).unwrap();
        assert!((back / share - 1.0).abs() < allowed + 0.013, "{air:?}: {back} %, not {share}");
        if let Some(ice) = row.known("saturation_ice_hpa") {
            let got = humidity::saturation_over_ice_hpa(air).unwrap();
            assert!((got / ice - 1.0).abs() < 0.005, "{air:?}: {got}, not {ice} hPa");
        }
        if let Some(frost) = row.known("frost_point_c") {
            let got = humidity::frost_point(row.celsius("dew_point_c")).unwrap().celsius();
            assert!((got - frost).abs() < 0.2, "{air:?} {share} %: {got}, not {frost} °C");
        }
    }
}

#[test]
fn sheet_temperatures_by_scipy() {
    for row in table("sheet", 306) {
        let optics = Optics::new(row.number("reflectance"), row.number("emittance")).unwrap();
        let convection = row.number("convection_w_m2_k");
        let got = sheet_temperature(optics, &row.surroundings(), convection).unwrap().celsius();
        let expected = row.number("sheet_c");
        assert!((got - expected).abs() < 1e-5, "{optics:?} {convection}: {got}, not {expected}");
    }
}

#[test]
fn sky_temperatures_written_out_a_second_time() {
    for row in table("sky", 200) {
        let (hour, pressure) = (row.number("solar_hour"), row.number("pressure_hpa"));
        let clear = sky::martin_berdahl1984(row.celsius("dew_point_c"), hour, pressure).unwrap();
        let emissivity = sky::with_cloud(clear, row.number("cloud_pct")).unwrap();
        let got = sky::temperature(row.celsius("air_c"), emissivity).unwrap().celsius();
        assert!((got - row.number("sky_c")).abs() < 1e-6, "{got}");
    }
}

#[test]
fn wet_sheets_by_scipy_over_metpys_vapor() {
    let mut dews = 0;
    for row in table("wet_sheet", 300) {
        let wet = WetSheet {
            around: row.surroundings(),
            dew_point: row.celsius("dew_point_c"),
            surface_pressure_hpa: row.number("pressure_hpa"),
            convection_w_m2_k: row.number("convection_w_m2_k"),
            optics: Optics::new(row.number("reflectance"), row.number("emittance")).unwrap(),
        };
        let got = exchange(&wet).unwrap();
        let expected = row.number("evaporation_mm_per_h");
        // Another fit of the vapor pressure: 0.4 % of it, which a small deficit magnifies.
        let allowed = 0.01 * expected.abs() + 0.001;
        assert!(
            (got.evaporation_mm_per_h - expected).abs() < allowed,
            "{wet:?}: {}, not {expected} mm/h",
            got.evaporation_mm_per_h
        );
        assert!((got.sheet.celsius() - row.number("sheet_c")).abs() < 0.1, "{wet:?} {got:?}");
        dews += usize::from(expected < 0.0);
    }
    assert!(dews > 10, "{dews}");
}

#[test]
fn grass_and_open_water_by_pyet() {
    for row in table("pyet", 200) {
        let air = row.celsius("air_c");
        let (wind, pressure) = (row.number("wind_2m_m_s"), row.number("pressure_kpa") * 10.0);
        let saturation = humidity::saturation_over_water_hpa(air).unwrap();
        let deficit_hpa = saturation * (1.0 - row.number("humidity_pct") / 100.0);
        let latent = latent_heat_j_per_kg(air);
        let psychrometric = psychrometric_hpa_per_k(pressure, latent);
        let mm_per_day = |heat_transfer_w_m2_k, psychrometric_hpa_per_k| {
            let terms = Combination {
                slope_hpa_per_k: humidity::saturation_slope_hpa_per_k(air).unwrap(),
                available_w_m2: row.number("net_mj_m2_d") * 1e6 / 86_400.0,
                heat_transfer_w_m2_k,
                deficit_hpa,
                psychrometric_hpa_per_k,
            };
            penman_monteith_w_m2(&terms) * 86_400.0 / latent
        };
        // Penman 1948's 2.6 + 1.4 u, in mm/d for a kPa, as a transfer of heat.
        let transfer = psychrometric * (2.6 + 1.4 * wind) / 10.0 * latent / 86_400.0;
        let water = mm_per_day(transfer, psychrometric);
        let expected = row.number("water_mm_d");
        assert!((water - expected).abs() < 0.01 * expected, "water {water}, not {expected} mm/d");
        // Allen1998's grass: ρ cp / ra; its rounded 900 and 0.408 cost another percent.
        let density = pressure / 10.0 / (1.01 * (air.celsius() + 273.0) * 0.287);
        let transfer = density * 1013.0 * wind / 208.0;
        let grass = mm_per_day(transfer, psychrometric * (1.0 + 0.34 * wind));
        let expected = row.number("grass_mm_d");
        assert!((grass - expected).abs() < 0.025 * expected, "grass {grass}, not {expected} mm/d");
    }
}

#[test]
fn films_through_eight_nights() {
    let holds = RainDepth::from_millimeters(0.3);
    let optics = Preset::White.optics(false);
    let sheet = FilmSheet { optics, holds, convection: Band::Nominal };
    let mut film = Film::dry(sheet).unwrap();
    let mut wet_hours = 0;
    for row in table("film_night", 144) {
        if row.number("hour") == 0.0 {
            film = Film::dry(sheet).unwrap();
        }
        let weather = FilmWeather {
            around: row.surroundings(),
            dew_point: row.celsius("dew_point_c"),
            wind: WindSpeed::from_meters_per_second(row.number("wind_m_s")),
            surface_pressure_hpa: 1000.0,
            rain_mm_per_h: row.number("rain_mm_per_h"),
        };
        for _ in 0..6 {
            film.step(&weather, 10.0).unwrap();
        }
        let (got, expected) = (film.depth().millimeters(), row.number("depth_mm"));
        // An hour's rates are within 1 %; over a night's hours that adds up to a hundredth.
        assert!((got - expected).abs() < 0.01, "{}: {got}, not {expected} mm", row.text("hour"));
        wet_hours += usize::from(expected > 0.0);
    }
    assert!(wet_hours > 40, "{wet_hours}");
}
