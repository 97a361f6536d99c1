//! Evaporation: the handbook's worked chains, the energy balance closed, laws over sweeps, edges.

use fairseam::physics::evaporation::{
    Combination, WetSheet, combination_of, exchange, latent_heat_j_per_kg, penman_monteith_w_m2,
    psychrometric_hpa_per_k,
};
use fairseam::physics::humidity::{condensation, dew_point, saturation_slope_hpa_per_k};
use fairseam::physics::optics::{Optics, Preset};
use fairseam::physics::pressure::{at_elevation_hpa, standard_hpa};
use fairseam::physics::surface::{Surroundings, sheet_temperature};
use fairseam::units::{Length, Temperature};

use crate::proof::{Allowed, Proof};

/// Allen1998's own chain, the yardstick of this file: temperatures in °C, pressures in kPa,
/// radiation in MJ/m², as that handbook has them.
mod fao56 {
    /// Eq. 11.
    pub(super) fn saturation(t: f64) -> f64 {
        0.6108 * (17.27 * t / (t + 237.3)).exp()
    }

    /// Eq. 13.
    pub(super) fn slope(t: f64) -> f64 {
        4098.0 * saturation(t) / (t + 237.3).powi(2)
    }

    /// Eq. 8.
    pub(super) fn psychrometric(pressure: f64) -> f64 {
        0.665e-3 * pressure
    }

    /// Eq. 47: wind at 2 m.
    pub(super) fn wind_at_2m(wind: f64, height: f64) -> f64 {
        wind * 4.87 / (67.8 * height - 5.42).ln()
    }

    /// Eq. 21 to 25: radiation at the top of the air in a day.
    pub(super) fn extraterrestrial(latitude_deg: f64, day_of_year: f64) -> f64 {
        let angle = std::f64::consts::TAU * day_of_year / 365.0;
        let inverse_distance = 1.0 + 0.033 * angle.cos();
        let declination = 0.409 * (angle - 1.39).sin();
        let latitude = latitude_deg.to_radians();
        let sunset = (-latitude.tan() * declination.tan()).acos();
        24.0 * 60.0 / std::f64::consts::PI
            * 0.0820
            * inverse_distance
            * (sunset * latitude.sin() * declination.sin()
                + latitude.cos() * declination.cos() * sunset.sin())
    }
}

/// The heat transfer that stands behind Allen1998's grass: `ρ cp / ra` with `ra = 208 / u2`, in
/// W/(m² K). Its box 4 and eq. 5; `ρ = P / (1.01 (T + 273) 0.287)`.
fn grass_transfer(air_c: f64, pressure_kpa: f64, wind_2m: f64) -> f64 {
    let density = pressure_kpa / (1.01 * (air_c + 273.0) * 0.287);
    density * 1013.0 * wind_2m / 208.0
}

/// Evaporation in mm/h by our combination from Allen1998's own slope and deficit.
fn grass_mm_per_h(air_c: f64, humidity_pct: f64, wind_2m: f64, available_mj_h: f64) -> f64 {
    let psychrometric = fao56::psychrometric(101.3) * 10.0;
    let terms = Combination {
        slope_hpa_per_k: fao56::slope(air_c) * 10.0,
        available_w_m2: available_mj_h * 1e6 / 3600.0,
        heat_transfer_w_m2_k: grass_transfer(air_c, 101.3, wind_2m),
        deficit_hpa: fao56::saturation(air_c) * 10.0 * (1.0 - humidity_pct / 100.0),
        psychrometric_hpa_per_k: psychrometric * (1.0 + 0.34 * wind_2m),
    };
    penman_monteith_w_m2(&terms) * 3600.0 / 2.45e6
}

#[test]
fn the_handbooks_numbers() {
    // (got, printed, allowed, where)
    let of_the_yardstick = [
        (fao56::saturation(38.0), 6.625, 0.001, "Allen1998, example 19"),
        (fao56::slope(38.0), 0.358, 0.0006, "Allen1998, example 19"),
        (fao56::wind_at_2m(3.2, 10.0), 2.4, 0.06, "Allen1998, example 14"),
        (fao56::extraterrestrial(-20.0, 246.0), 32.2, 0.1, "Allen1998, example 8"),
    ];
    for (got, printed, allowed, source) in of_the_yardstick {
        assert!((got - printed).abs() <= allowed, "{source}: {got}, not {printed}");
    }
    let mut proof = Proof::of(
        "water/handbook-numbers",
        "Air pressure, psychrometric constant, slope, latent heat",
        "Allen1998 and AsceEwri2005, worked examples",
        "numbers",
        Allowed::Each("the last printed digit; 0.3 % for another fit of the slope"),
    );
    let ours = [
        (standard_hpa(Length::from_meters(1800.0)).unwrap(), 818.0, 0.5, "Allen1998, example 2"),
        (standard_hpa(Length::from_meters(1200.0)).unwrap(), 879.0, 0.5, "Allen1998, example 4"),
        (psychrometric_hpa_per_k(818.0, 2.45e6), 0.54, 0.005, "Allen1998, example 2"),
        (psychrometric_hpa_per_k(851.7, 2.45e6), 0.566, 0.001, "AsceEwri2005, worked example"),
        (
            saturation_slope_hpa_per_k(Temperature::from_celsius(38.0)).unwrap(),
            3.58,
            0.012,
            "Allen1998, example 19; our curve is another fit",
        ),
        // Allen1998, eq. 3-1 and its rounded value for 20 °C.
        (latent_heat_j_per_kg(Temperature::from_celsius(20.0)), 2.45e6, 0.01e6, "Allen1998, eq. 8"),
    ];
    for (got, printed, allowed, source) in ours {
        proof.within(got, printed, allowed, || source.to_owned());
    }
    proof.done();
}

#[test]
fn the_hourly_examples_come_out_of_our_combination() {
    // Allen1998, example 19, N'Diaye: 14 to 15 h, 38 °C, 52 %, 3.3 m/s, Rn 1.749, G 0.175: 0.63 mm/h;
    // 2 to 3 h, 28 °C, 90 %, 1.9 m/s, Rn -0.100, G -0.050: 0.00 mm/h.
    let mut proof = Proof::of(
        "water/handbook-hours",
        "Evaporation of an hour of the day and one of the night",
        "Allen1998, example 19",
        "hours",
        Allowed::absolute(0.005, "mm"),
    );
    let day = grass_mm_per_h(38.0, 52.0, 3.3, 1.749 - 0.175);
    proof.near(day, 0.63, || "day".to_owned());
    let night = grass_mm_per_h(28.0, 90.0, 1.9, -0.100 + 0.050);
    proof.near(night, 0.0, || "night".to_owned());
    proof.done();
}

#[test]
fn the_daily_example_comes_out_of_our_combination() {
    // Allen1998, example 18, Brussels, 6 July: 12.3 to 21.5 °C, ea 1.409 kPa, es 1.997, 2.078 m/s,
    // Rn 13.28 MJ/m², slope 0.122, γ 0.0666: 3.9 mm/d. Values as printed in the example.
    let (air, pressure) = (16.9, 100.1);
    let terms = Combination {
        slope_hpa_per_k: 1.22,
        available_w_m2: 13.28e6 / 86_400.0,
        heat_transfer_w_m2_k: grass_transfer(air, pressure, 2.078),
        deficit_hpa: 19.97 - 14.09,
        psychrometric_hpa_per_k: 0.666 * (1.0 + 0.34 * 2.078),
    };
    let day = penman_monteith_w_m2(&terms) * 86_400.0 / 2.45e6;
    let mut proof = Proof::of(
        "water/handbook-day",
        "Evaporation of a day",
        "Allen1998, example 18",
        "day",
        Allowed::absolute(0.06, "mm"),
    );
    proof.near(day, 3.9, || "Brussels".to_owned());
    proof.done();
}

#[test]
fn the_open_water_chain_of_the_textbook() {
    // Chow1988, examples 3.5.1 to 3.5.3, from memory and worked again: 200 W/m² at 25 °C give
    // 7.10 mm/d; 40 % and 3 m/s over a roughness of 0.03 cm give 7.45 mm/d; both together, with
    // slope 188.7 and γ 67.1 Pa/K, 7.2 mm/d.
    let latent = latent_heat_j_per_kg(Temperature::from_celsius(25.0));
    let mm_per_day = |w_m2: f64| w_m2 / (latent * 997.0) * 86_400.0 * 1000.0;
    let mut proof = Proof::of(
        "water/open-water",
        "Open water by its energy, and by energy and wind together",
        "Chow1988, examples 3.5.1 and 3.5.3; from memory, worked again",
        "examples",
        Allowed::Each("0.02 and 0.03 mm in a day"),
    );
    proof.within(mm_per_day(200.0), 7.10, 0.02, || "energy".to_owned());
    let deficit_hpa = 31.67 - 12.67;
    let aerodynamic_m_s = 0.622 * 0.4 * 0.4 * 1.19 * 3.0
        / (101_300.0 * 997.0 * (2.0_f64 / 0.0003).ln().powi(2))
        * deficit_hpa
        * 100.0;
    let aerodynamic_w_m2 = aerodynamic_m_s * 997.0 * latent;
    assert!((mm_per_day(aerodynamic_w_m2) - 7.45).abs() <= 0.03);
    let terms = |available_w_m2, heat_transfer_w_m2_k| Combination {
        slope_hpa_per_k: 1.887,
        available_w_m2,
        heat_transfer_w_m2_k,
        deficit_hpa,
        psychrometric_hpa_per_k: 0.671,
    };
    let both = penman_monteith_w_m2(&terms(200.0, 0.671 * aerodynamic_w_m2 / deficit_hpa));
    proof.within(mm_per_day(both), 7.2, 0.03, || "both".to_owned());
    proof.done();
}

#[test]
fn a_lake_in_a_hydrology_course() {
    // Ponce1989, Penman example, as a course page prints it: 15 °C, radiation part 0.935 cm/d,
    // mass-transfer part 0.189 cm/d, slope over γ 1.66: 0.65 cm/d.
    let terms = Combination {
        slope_hpa_per_k: 1.66,
        available_w_m2: 0.935,
        heat_transfer_w_m2_k: 1.0,
        deficit_hpa: 0.189,
        psychrometric_hpa_per_k: 1.0,
    };
    let mut proof = Proof::of(
        "water/lake",
        "A lake's evaporation, and slope over psychrometric constant",
        "Ponce1989, as a course page prints it",
        "numbers",
        Allowed::Each("the last printed digit; 0.03 of the ratio"),
    );
    proof.within(penman_monteith_w_m2(&terms), 0.65, 0.005, || "cm/d".to_owned());
    let air = Temperature::from_celsius(15.0);
    let ratio = saturation_slope_hpa_per_k(air).unwrap()
        / psychrometric_hpa_per_k(1013.0, latent_heat_j_per_kg(air));
    proof.within(ratio, 1.66, 0.03, || "ratio".to_owned());
    proof.done();
}

fn wet(air_c: f64, humidity_pct: f64, sky_below_k: f64, sun: f64, transfer: f64) -> WetSheet {
    let air = Temperature::from_celsius(air_c);
    WetSheet {
        around: Surroundings {
            air,
            sky: Temperature::from_celsius(air_c - sky_below_k),
            shortwave_w_m2: sun,
        },
        dew_point: dew_point(air, humidity_pct).unwrap(),
        surface_pressure_hpa: 1000.0,
        convection_w_m2_k: transfer,
        optics: Preset::White.optics(false),
    }
}

/// Wet sheets in every weather of a coarse grid.
fn sweep(mut check: impl FnMut(WetSheet)) {
    for air in [-20.0, -4.0, 0.5, 8.0, 20.0, 35.0] {
        for humidity in [15.0, 50.0, 85.0, 99.0, 100.0] {
            for sky in [0.0, 6.0, 20.0] {
                for sun in [0.0, 80.0, 400.0, 1000.0] {
                    for transfer in [2.4, 5.0, 12.0, 45.0] {
                        for optics in [Preset::White, Preset::Black] {
                            let optics = optics.optics(false);
                            check(WetSheet { optics, ..wet(air, humidity, sky, sun, transfer) });
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn what_comes_in_goes_out() {
    // Law: sun and sky taken up are shed as radiation, to the air and with the vapor.
    sweep(|wet| {
        let found = exchange(&wet).unwrap();
        let (t, air, sky) =
            (found.sheet.kelvin(), wet.around.air.kelvin(), wet.around.sky.kelvin());
        let radiated =
            wet.optics.thermal_emittance() * 5.670_374_419e-8 * (t.powi(4) - sky.powi(4));
        let shed = radiated + wet.convection_w_m2_k * (t - air) + found.latent_w_m2;
        let taken = wet.optics.solar_absorptance() * wet.around.shortwave_w_m2;
        assert!((shed - taken).abs() < 1e-5, "{wet:?}: {shed} {taken}");
    });
}

#[test]
fn dew_settles_exactly_where_a_dry_sheet_is_below_the_dew_or_frost_point() {
    let mut dews = 0;
    sweep(|wet| {
        let dry = sheet_temperature(wet.optics, &wet.around, wet.convection_w_m2_k).unwrap();
        let settles_at = condensation(wet.dew_point).unwrap().at();
        let found = exchange(&wet).unwrap();
        if found.evaporation_mm_per_h < -1e-9 {
            dews += 1;
            assert!(dry.celsius() < settles_at.celsius() + 0.006, "dew on a warm sheet: {wet:?}");
            assert!(found.sheet.celsius() < settles_at.celsius() + 0.006, "{wet:?} {found:?}");
            assert!(!found.sheet.is_below(dry), "dew warms the sheet: {wet:?}");
        } else if found.evaporation_mm_per_h > 1e-9 {
            assert!(
                dry.celsius() > settles_at.celsius() - 0.006,
                "no dew on a cold sheet: {wet:?}"
            );
            assert!(!found.sheet.is_above(dry), "drying cools the sheet: {wet:?}");
        }
    });
    assert!(dews > 50, "the sweep holds nights with dew: {dews}");
}

#[test]
fn drying_never_speeds_up_with_humidity_nor_slows_down_with_sun() {
    for air in [-20.0, -4.0, -1.0, 0.5, 3.0, 20.0, 35.0] {
        for sky in [0.0, 6.0, 20.0] {
            for sun in [0.0, 300.0, 1000.0] {
                for transfer in [2.4, 5.0, 12.0, 45.0] {
                    let mut before = f64::INFINITY;
                    for humidity in 1..=100 {
                        let wet = wet(air, f64::from(humidity), sky, sun, transfer);
                        let now = exchange(&wet).unwrap().evaporation_mm_per_h;
                        assert!(now <= before + 1e-12, "{wet:?}: {before} {now}");
                        before = now;
                        let brighter = Surroundings { shortwave_w_m2: sun + 20.0, ..wet.around };
                        let sunny = exchange(&WetSheet { around: brighter, ..wet }).unwrap();
                        assert!(sunny.evaporation_mm_per_h >= now - 1e-12, "{wet:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn the_straight_line_form_is_close_where_the_sheet_is_near_the_air() {
    // Law: a wet sheet near air temperature leaves the line little room. By day and off the calm the
    // two are within 10 % in moist air; in hot dry air, where the wet sheet is far below the air, the
    // line falls short, which is why the curve is used.
    for air in [5.0, 20.0, 35.0] {
        for humidity in [60.0, 85.0] {
            let wet = wet(air, humidity, 10.0, 500.0, 12.0);
            let line = penman_monteith_w_m2(&combination_of(&wet).unwrap());
            let curve = exchange(&wet).unwrap().latent_w_m2;
            assert!((line - curve).abs() <= 0.10 * curve, "{air} {humidity}: {line} {curve}");
        }
    }
}

#[test]
fn pressure_falls_with_height() {
    let mut before = f64::INFINITY;
    for hundreds in -5..=90 {
        let now = standard_hpa(Length::from_meters(f64::from(hundreds) * 100.0)).unwrap();
        assert!(now < before && now > 300.0, "{hundreds}");
        before = now;
    }
    // A station at sea level reads what is reduced to sea level.
    assert_eq!(at_elevation_hpa(1023.0, Length::from_meters(0.0)), Some(1023.0));
    for elevation in [-500.1, 9000.1, f64::NAN] {
        assert_eq!(standard_hpa(Length::from_meters(elevation)), None, "{elevation}");
    }
    for sea_level in [849.9, 1100.1, f64::NAN] {
        assert_eq!(at_elevation_hpa(sea_level, Length::from_meters(100.0)), None, "{sea_level}");
    }
}

#[test]
fn just_outside_the_range_there_is_no_answer() {
    let sound = wet(20.0, 60.0, 10.0, 300.0, 12.0);
    assert!(exchange(&sound).is_some());
    let with = |change: fn(&mut WetSheet, f64), value| {
        let mut wet = sound;
        change(&mut wet, value);
        (exchange(&wet), combination_of(&wet).map(|terms| terms.deficit_hpa))
    };
    for (change, values) in [
        (
            (|w, v| w.dew_point = Temperature::from_celsius(v)) as fn(&mut WetSheet, f64),
            [-80.1, 50.1, f64::NAN],
        ),
        (|w, v| w.surface_pressure_hpa = v, [299.9, 1100.1, f64::NAN]),
        (|w, v| w.convection_w_m2_k = v, [0.0, 500.1, f64::NAN]),
        (|w, v| w.around.shortwave_w_m2 = v, [-0.1, 1500.1, f64::NAN]),
        (|w, v| w.around.air = Temperature::from_celsius(v), [-90.1, 60.1, f64::NAN]),
        (|w, v| w.around.sky = Temperature::from_celsius(v), [-200.1, 60.1, f64::NAN]),
    ] {
        for value in values {
            assert_eq!(with(change, value), (None, None), "{value}");
        }
    }
    // A dew point above the air, from rounding, is saturated air and no more.
    let saturated = WetSheet { dew_point: sound.around.air, ..sound };
    let over = WetSheet { dew_point: Temperature::from_celsius(20.2), ..sound };
    let (one, other) = (exchange(&saturated).unwrap(), exchange(&over).unwrap());
    assert!((one.latent_w_m2 - other.latent_w_m2).abs() < 1e-6);
    // No radiating at all, in still and dry air, still ends.
    let bare =
        WetSheet { optics: Optics::new(0.0, 0.0).unwrap(), convection_w_m2_k: 1e-6, ..sound };
    assert!(exchange(&bare).unwrap().sheet.celsius().is_finite());
}
