//! What generator and cord leave for each welder of a site. The plan's advice and the command
//! `fairseam cord` both read it here, so that a number is decided once.

mod cord;
mod generator;
mod what_if;

pub use cord::{CordOption, CordReport, DropVerdict, WelderCord};
pub use generator::{GeneratorLoad, GeneratorReport};
pub use what_if::WhatIf;

use crate::physics::cord::Conductor;
use crate::site::{Kind, Site};
use crate::units::{Length, Temperature, UnitSystem};

/// Air at which ratings of generators are meant to hold: heat takes nothing off up to here.
///
/// *Common practice*: the derating rule of [`crate::physics::cord`] counts from it.
pub const RATING_AIR: Temperature = Temperature::from_fahrenheit(77.0);

/// Generator and cords of a site, checked as far as the site file allows.
#[derive(Debug, Clone, PartialEq)]
pub struct PowerReport {
    /// The site's name.
    pub site: String,
    /// The crew's units.
    pub units: UnitSystem,
    /// Air for which it is worked out.
    pub air: Temperature,
    /// Whether that was asked for; if not, it is [`RATING_AIR`].
    pub air_given: bool,
    /// Whether the automatic welder has the generator to itself, where the file says so.
    pub dedicated: Option<bool>,
    /// Number of automatic welders on the site.
    pub automatic_welders: usize,
    /// The generator, or why it was not checked.
    pub generator: Result<GeneratorReport, Unchecked>,
    /// One for each welder, in the site's order.
    pub cords: Vec<WelderCord>,
}

/// Why something was not checked.
#[derive(Debug, Clone, PartialEq)]
pub enum Unchecked {
    /// Keys that the site file lacks.
    Missing(Vec<MissingKey>),
    /// A cord beyond what [`Conductor::ohms_per_km`] covers, or without length.
    CordOutside(Conductor, Length),
    /// Elevation or air beyond what [`crate::physics::cord::check_generator`] covers.
    DeratingOutside,
}

/// A value that the site file may give and does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MissingKey {
    /// `power.generator_watts`.
    GeneratorWatts,
    /// `power.cord_gauge_awg` or `power.cord_mm2`.
    CordSize,
    /// `power.cord_length`.
    CordLength,
    /// `welders[].rated_watts`.
    RatedWatts,
    /// `welders[].rated_volts`.
    RatedVolts,
}

/// Checks generator and cords of `site` in air of `ambient`, or at [`RATING_AIR`] without it.
///
/// Every welder is taken to hang on a cord of its own, of the site's size and length, at a supply
/// that gives the voltage of its plate. Nothing that the file lacks is made up: what cannot be
/// checked says so in its place.
pub fn power_check(site: &Site, ambient: Option<Temperature>) -> PowerReport {
    let air = ambient.unwrap_or(RATING_AIR);
    PowerReport {
        site: site.name.clone(),
        units: site.units,
        air,
        air_given: ambient.is_some(),
        dedicated: site.power.and_then(|power| power.dedicated),
        automatic_welders: automatic(site).count(),
        generator: generator::check(site, air),
        cords: site.welders.iter().map(|welder| cord::check(site, welder, air)).collect(),
    }
}

impl PowerReport {
    /// Whether the file gives too little for any check.
    pub fn is_empty(&self) -> bool {
        self.generator.is_err() && self.cords.iter().all(|welder| welder.cord.is_err())
    }

    /// Whether something else hangs on the automatic welder's generator.
    pub fn automatic_shares(&self) -> bool {
        self.automatic_welders > 0 && self.dedicated == Some(false)
    }
}

fn automatic(site: &Site) -> impl Iterator<Item = &crate::site::Welder> {
    site.welders.iter().filter(|welder| welder.kind == Kind::Automatic)
}
