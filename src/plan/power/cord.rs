//! A welder's cord: what it takes, what that does to the hot air, what another would give.

use super::{MissingKey, Unchecked};
use crate::physics::cord::{
    BRANCH_DROP, Conductor, CordCheck, CordRun, LostRise, NEC_CONDUCTOR_TEMPERATURE, TOTAL_DROP,
    WelderLoad, check_cord, longest_cord,
};
use crate::site::{Power, Site, Welder};
use crate::units::{Length, Temperature, TemperatureDifference, UnitSystem};

/// Gauges of which cords are made. *Common practice*.
const GAUGES_AWG: [u32; 11] = [18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0];
/// Nominal cross-sections that the resistance is known for, mm². Source: IEC60228, table 3.
const AREAS_MM2: [f64; 6] = [1.5, 2.5, 4.0, 6.0, 10.0, 16.0];
/// Lengths in which cords are sold or joined. *Common practice*.
const LENGTHS_FT: [f64; 14] = [
    25.0, 50.0, 75.0, 100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0, 750.0, 1000.0, 1500.0,
    2000.0,
];
const LENGTHS_M: [f64; 14] =
    [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0];
/// How many heavier sizes and how many shorter lengths are set beside the present cord.
const STEPS: usize = 2;

/// A welder and its cord.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderCord {
    /// The welder's name.
    pub welder: String,
    /// The cord, or why it was not checked.
    pub cord: Result<CordReport, Unchecked>,
}

/// A cord under its welder's load.
#[derive(Debug, Clone, PartialEq)]
pub struct CordReport {
    /// By the welder's plate; the supply is taken to give that voltage.
    pub load: WelderLoad,
    /// As it is.
    pub now: CordOption,
    /// Rise of the welder's greatest heat over ambient.
    pub rise: TemperatureDifference,
    /// What the drop takes from that rise with the heater full on.
    pub lost: LostRise,
    /// Heavier sizes at this length, lightest first, then shorter lengths of this size, longest
    /// first. The last of the heavier ones stays within [`BRANCH_DROP`] if any does.
    pub others: Vec<CordOption>,
}

/// One cord and what it does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CordOption {
    /// Size.
    pub conductor: Conductor,
    /// One way.
    pub length: Length,
    /// What is left at its end.
    pub check: CordCheck,
    /// The longest of this size that stays within [`BRANCH_DROP`].
    pub longest: Length,
}

/// A drop against what the code's notes advise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DropVerdict {
    /// At most [`BRANCH_DROP`].
    Within,
    /// More than that, at most [`TOTAL_DROP`].
    OverBranch,
    /// More than [`TOTAL_DROP`].
    OverTotal,
}

impl CordOption {
    /// The drop against what the code's notes advise.
    pub fn verdict(&self) -> DropVerdict {
        match self.check.drop_fraction {
            drop if drop > TOTAL_DROP => DropVerdict::OverTotal,
            drop if drop > BRANCH_DROP => DropVerdict::OverBranch,
            _ => DropVerdict::Within,
        }
    }

    fn of(load: WelderLoad, conductor: Conductor, length: Length) -> Option<Self> {
        let copper = NEC_CONDUCTOR_TEMPERATURE;
        let check = check_cord(load, load.rated_volts, CordRun { conductor, length, copper })?;
        let longest = longest_cord(load, conductor, copper, BRANCH_DROP)?;
        Some(Self { conductor, length, check, longest })
    }
}

pub(super) fn check(site: &Site, welder: &Welder, air: Temperature) -> WelderCord {
    let cord = given(site.power, welder).and_then(|(load, conductor, length)| {
        let now = CordOption::of(load, conductor, length)
            .ok_or(Unchecked::CordOutside(conductor, length))?;
        let rise = welder.heat_max - air;
        let lost = now.check.lost_rise(rise);
        Ok(CordReport { load, now, rise, lost, others: others(load, &now, site.units) })
    });
    WelderCord { welder: welder.name.clone(), cord }
}

/// All that a check takes, or every key that is missing for it.
fn given(
    power: Option<Power>,
    welder: &Welder,
) -> Result<(WelderLoad, Conductor, Length), Unchecked> {
    let conductor = power.and_then(|power| {
        let gauge = power.cord_gauge_awg.map(Conductor::Awg);
        gauge.or(power.cord_mm2.map(Conductor::SquareMillimeters))
    });
    let length = power.and_then(|power| power.cord_length);
    match (conductor, length, welder.rated_watts, welder.rated_volts) {
        (Some(conductor), Some(length), Some(rated_watts), Some(rated_volts)) => {
            Ok((WelderLoad { rated_watts, rated_volts }, conductor, length))
        }
        (conductor, length, watts, volts) => {
            let missing = [
                (MissingKey::CordSize, conductor.is_none()),
                (MissingKey::CordLength, length.is_none()),
                (MissingKey::RatedWatts, watts.is_none()),
                (MissingKey::RatedVolts, volts.is_none()),
            ];
            let missing = missing.into_iter().filter(|(_, is_missing)| *is_missing);
            Err(Unchecked::Missing(missing.map(|(key, _)| key).collect()))
        }
    }
}

fn others(load: WelderLoad, now: &CordOption, units: UnitSystem) -> Vec<CordOption> {
    let mut others = heavier(load, now);
    let lengths = match units {
        UnitSystem::Us => LENGTHS_FT,
        UnitSystem::Metric => LENGTHS_M,
    };
    let shorter = lengths.into_iter().rev().map(|length| Length::from_units(length, units));
    // What is shorter by less than a hundredth is the same cord.
    let shorter = shorter.filter(|length| length.meters() < 0.99 * now.length.meters());
    others.extend(
        shorter.take(STEPS).filter_map(|length| CordOption::of(load, now.conductor, length)),
    );
    others
}

/// The next sizes up, and on from there to the first that is heavy enough.
fn heavier(load: WelderLoad, now: &CordOption) -> Vec<CordOption> {
    let sizes: Vec<Conductor> = match now.conductor {
        Conductor::Awg(gauge) => {
            GAUGES_AWG.into_iter().filter(|other| *other < gauge).map(Conductor::Awg).collect()
        }
        Conductor::SquareMillimeters(area) => AREAS_MM2
            .into_iter()
            .filter(|other| *other > area)
            .map(Conductor::SquareMillimeters)
            .collect(),
    };
    let options = sizes.into_iter().filter_map(|size| CordOption::of(load, size, now.length));
    let options: Vec<CordOption> = options.collect();
    let enough = options.iter().position(|option| option.verdict() == DropVerdict::Within);
    options
        .into_iter()
        .enumerate()
        .filter(|(step, _)| *step < STEPS || Some(*step) == enough)
        .map(|(_, option)| option)
        .collect()
}
