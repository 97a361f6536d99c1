//! What the test-weld tests share: a site's welders, strips, and trials written as short tables.

use std::collections::BTreeSet;

use chrono::{DateTime, Utc};
use fairseam::site::{Kind, Polymer, Welder};
use fairseam::testweld::{HeatTrial, JudgedTrial, Judging, Parted, Peeled, Sign, Strip, Trial};
use fairseam::units::{
    BondWidth, Temperature, TemperatureDifference, Thickness, TravelSpeed, UnitSystem,
};

pub fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

pub fn fahrenheit(degrees: f64) -> Temperature {
    Temperature::from_fahrenheit(degrees)
}

pub fn feet_per_minute(speed: f64) -> TravelSpeed {
    TravelSpeed::from_feet_per_minute(speed)
}

/// 700 to 1100 °F in steps of 100, 3 to 18 ft/min.
pub fn automatic() -> Welder {
    Welder {
        name: "automatic 1".to_owned(),
        kind: Kind::Automatic,
        heat_low: fahrenheit(700.0),
        heat_max: fahrenheit(1100.0),
        heat_step: TemperatureDifference::from_fahrenheit(100.0),
        speed: Some((feet_per_minute(3.0), feet_per_minute(18.0))),
        rated_watts: None,
        rated_volts: None,
    }
}

pub fn hand() -> Welder {
    Welder { name: "hand 1".to_owned(), kind: Kind::Hand, speed: None, ..automatic() }
}

pub fn strip(inches: f64, parted: Parted, signs: &[Sign], peeled: Peeled) -> Strip {
    let signs: BTreeSet<Sign> = signs.iter().copied().collect();
    Strip { bond_width: BondWidth::from_inches(inches), parted, signs, peeled }
}

/// A strip as a crew would call it: `g` good, `c` cold, `b` burnt though wide, `m` mixed.
pub fn strip_of(letter: char) -> Strip {
    match letter {
        'g' => strip(1.5, Parted::FilmTear, &[], Peeled::Across),
        'c' => strip(0.25, Parted::Cold, &[], Peeled::Across),
        'b' => strip(2.0, Parted::FilmTear, &[Sign::Browning], Peeled::Across),
        'm' => strip(1.5, Parted::Mixed, &[], Peeled::Across),
        'a' => strip(1.5, Parted::FilmTear, &[], Peeled::Along),
        other => panic!("no strip is called {other}"),
    }
}

/// `700 ccc, 800 ggg`: heats in °F and their strips.
pub fn heats(table: &str) -> Vec<HeatTrial> {
    table
        .split(',')
        .map(|row| {
            let (heat, strips) = row.trim().split_once(' ').unwrap();
            let heat = fahrenheit(heat.parse().unwrap());
            HeatTrial::new(heat, strips.chars().map(strip_of).collect())
        })
        .collect()
}

/// A trial on the automatic welder, 8 ft/min, 60 mil PVC.
pub fn trial(when: &str, table: &str) -> Trial {
    Trial {
        when: at(when),
        who: "operator".to_owned(),
        welder: "automatic 1".to_owned(),
        welder_kind: Kind::Automatic,
        polymer: Polymer::Pvc,
        thickness: Thickness::from_mils(60.0),
        lot: None,
        roll: None,
        ambient: fahrenheit(60.0),
        sheet: None,
        weights: Some("all".to_owned()),
        air_flow: Some("full".to_owned()),
        speed: Some(feet_per_minute(8.0)),
        heats: heats(table),
        note: None,
    }
}

pub fn judging() -> Judging {
    Judging::default_for(UnitSystem::Us)
}

pub fn judged(when: &str, table: &str) -> JudgedTrial {
    judge(trial(when, table))
}

pub fn judge(trial: Trial) -> JudgedTrial {
    let welders = [automatic(), hand()];
    let welder = welders.iter().find(|welder| welder.name == trial.welder);
    JudgedTrial::new(trial, welder, &judging())
}

/// Temperatures as whole °F, for comparing with a table.
pub fn whole(heats: &[Temperature]) -> Vec<i64> {
    heats.iter().map(|heat| heat.fahrenheit().round() as i64).collect()
}
