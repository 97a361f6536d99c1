//! `fairseam cord`: what generator and cord leave for the welders.

use anyhow::bail;

use super::arguments::{CordArguments, Format};
use super::outcome::print;
use super::plan::paint;
use super::shell;
use crate::physics::cord::{Conductor, NEC_CONDUCTOR_TEMPERATURE};
use crate::plan::power::{WhatIf, power_check};
use crate::render::cord::{cord_json, cord_text, nothing_to_check, size};
use crate::units::{Length, Temperature, UnitSystem};

/// Checks generator and cords, prints what is left.
pub(super) fn run(arguments: &CordArguments) -> anyhow::Result<()> {
    let site = shell::load_site(&arguments.site)?.site;
    let air = arguments.air.map(|air| self::air(air, site.units)).transpose()?;
    let what_if = WhatIf {
        conductor: conductor(arguments)?,
        length: arguments.length.map(|length| self::length(length, site.units)).transpose()?,
    };
    let report = power_check(&what_if.applied_to(site), air);
    if report.is_empty() {
        bail!("{}", nothing_to_check(&report));
    }
    print(&match arguments.format {
        Format::Text => cord_text(&report, &what_if, paint()),
        Format::Json => cord_json(&report, &what_if),
    })
}

/// Air in which the derating of generators is known.
fn air(typed: f64, units: UnitSystem) -> anyhow::Result<Temperature> {
    let (low, high) = match units {
        UnitSystem::Us => (-40.0, 140.0),
        UnitSystem::Metric => (-40.0, 60.0),
    };
    if !(low..=high).contains(&typed) {
        let unit = units.temperature();
        bail!("`--air` is {typed} {unit}; expected an air temperature from {low} to {high} {unit}");
    }
    Ok(Temperature::from_units(typed, units))
}

/// The same lengths as in a site file.
fn length(typed: f64, units: UnitSystem) -> anyhow::Result<Length> {
    let (shortest, longest) = match units {
        UnitSystem::Us => (1.0, 3000.0),
        UnitSystem::Metric => (0.3, 900.0),
    };
    if !(shortest..=longest).contains(&typed) {
        let unit = units.length();
        bail!(
            "`--length` is {typed} {unit}; expected a length, one way, from {shortest} to \
             {longest} {unit}"
        );
    }
    Ok(Length::from_units(typed, units))
}

fn conductor(arguments: &CordArguments) -> anyhow::Result<Option<Conductor>> {
    let gauge = arguments.gauge.map(Conductor::Awg);
    let Some(conductor) = gauge.or(arguments.mm2.map(Conductor::SquareMillimeters)) else {
        return Ok(None);
    };
    if conductor.ohms_per_km(NEC_CONDUCTOR_TEMPERATURE).is_none() {
        match conductor {
            Conductor::Awg(_) => bail!(
                "`--gauge` is {}; expected a gauge from 18 (thin) to 0 (thick)",
                size(conductor)
            ),
            Conductor::SquareMillimeters(area) => {
                bail!("`--mm2` is {area} mm²; expected a cross-section from 1.5 to 16 mm²")
            }
        }
    }
    Ok(Some(conductor))
}
