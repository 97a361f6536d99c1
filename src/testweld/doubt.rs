//! What did happen but proves nothing: reasons for `not conclusive`.

use super::trial::{HeatTrial, Trial};
use crate::site::{Kind, Welder};
use crate::units::{Temperature, TravelSpeed};

/// Why a whole trial is not conclusive.
#[derive(Debug, Clone, PartialEq)]
pub enum Doubt {
    /// The site file has no welder of that name: its heats cannot be held against its range.
    UnknownWelder {
        /// As written.
        name: String,
    },
    /// The site file calls it automatic and the record hand, or the other way round.
    OtherKind {
        /// As written.
        record: Kind,
        /// By the site file.
        site: Kind,
    },
    /// An automatic welder without a speed: a window holds for one speed only.
    SpeedMissing,
    /// Faster or slower than the machine can travel.
    SpeedOutsideMachine {
        /// As written.
        speed: TravelSpeed,
        /// Of the machine.
        slowest: TravelSpeed,
        /// Of the machine.
        fastest: TravelSpeed,
    },
    /// Two things were varied: the heats were not welded at one speed.
    SpeedVaried {
        /// Of the heats.
        slowest: TravelSpeed,
        /// Of the heats.
        fastest: TravelSpeed,
    },
    /// Two things were varied: the weights were changed between heats.
    WeightsVaried {
        /// Heats with other weights than the trial's.
        heats: Vec<Temperature>,
    },
    /// Two things were varied: the air flow was changed between heats.
    AirFlowVaried {
        /// Heats with another air flow than the trial's.
        heats: Vec<Temperature>,
    },
}

impl Doubt {
    /// The word in outputs.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::UnknownWelder { .. } => "unknown-welder",
            Self::OtherKind { .. } => "other-kind",
            Self::SpeedMissing => "speed-missing",
            Self::SpeedOutsideMachine { .. } => "speed-outside-machine",
            Self::SpeedVaried { .. } => "speed-varied",
            Self::WeightsVaried { .. } => "weights-varied",
            Self::AirFlowVaried { .. } => "air-flow-varied",
        }
    }
}

/// Every doubt about `trial`, made on `welder`; `None` where the site has no such welder.
pub fn doubts(trial: &Trial, welder: Option<&Welder>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    match welder {
        None => doubts.push(Doubt::UnknownWelder { name: trial.welder.clone() }),
        Some(welder) if welder.kind != trial.welder_kind => {
            doubts.push(Doubt::OtherKind { record: trial.welder_kind, site: welder.kind });
        }
        Some(_) => {}
    }
    if trial.welder_kind == Kind::Automatic {
        doubts.extend(speed_doubts(trial, welder));
    }
    let weights = varied(trial, trial.weights.as_deref(), |heat| heat.weights.as_deref());
    if !weights.is_empty() {
        doubts.push(Doubt::WeightsVaried { heats: weights });
    }
    let air_flow = varied(trial, trial.air_flow.as_deref(), |heat| heat.air_flow.as_deref());
    if !air_flow.is_empty() {
        doubts.push(Doubt::AirFlowVaried { heats: air_flow });
    }
    doubts
}

fn speed_doubts(trial: &Trial, welder: Option<&Welder>) -> Vec<Doubt> {
    let speeds: Option<Vec<TravelSpeed>> =
        trial.heats.iter().map(|heat| trial.speed_of(heat)).collect();
    let Some(speeds) = speeds else { return vec![Doubt::SpeedMissing] };
    let Some(&first) = speeds.first() else { return Vec::new() };
    let (slowest, fastest) = speeds.iter().fold((first, first), |(low, high), &speed| {
        (if speed < low { speed } else { low }, if speed > high { speed } else { high })
    });
    let mut doubts = Vec::new();
    if !slowest.same_as(fastest) {
        doubts.push(Doubt::SpeedVaried { slowest, fastest });
    }
    if let Some((machine_slowest, machine_fastest)) = welder.and_then(|welder| welder.speed) {
        let outside =
            |speed: TravelSpeed| !speed.clamp(machine_slowest, machine_fastest).same_as(speed);
        if let Some(&speed) = [slowest, fastest].iter().find(|&&speed| outside(speed)) {
            doubts.push(Doubt::SpeedOutsideMachine {
                speed,
                slowest: machine_slowest,
                fastest: machine_fastest,
            });
        }
    }
    doubts
}

/// Heats, ascending, whose own words differ from the trial's, where not all heats agree; case and
/// spaces do not count.
fn varied(
    trial: &Trial,
    held: Option<&str>,
    of_heat: impl Fn(&HeatTrial) -> Option<&str>,
) -> Vec<Temperature> {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let held = held.map(plain);
    let in_force: Vec<(Temperature, Option<String>)> = trial
        .heats
        .iter()
        .map(|heat| (heat.heat, of_heat(heat).map(plain).or_else(|| held.clone())))
        .collect();
    if in_force.windows(2).all(|pair| pair[0].1 == pair[1].1) {
        return Vec::new();
    }
    let mut heats: Vec<Temperature> =
        in_force.into_iter().filter(|(_, own)| *own != held).map(|(heat, _)| heat).collect();
    heats.sort_by(|one, other| one.celsius().total_cmp(&other.celsius()));
    heats
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_doubt_has_its_own_word() {
        let heats = Vec::new();
        let speed = TravelSpeed::from_feet_per_minute(8.0);
        let all = [
            Doubt::UnknownWelder { name: String::new() },
            Doubt::OtherKind { record: Kind::Hand, site: Kind::Automatic },
            Doubt::SpeedMissing,
            Doubt::SpeedOutsideMachine { speed, slowest: speed, fastest: speed },
            Doubt::SpeedVaried { slowest: speed, fastest: speed },
            Doubt::WeightsVaried { heats: heats.clone() },
            Doubt::AirFlowVaried { heats },
        ];
        let names: std::collections::BTreeSet<_> = all.iter().map(Doubt::name).collect();
        assert_eq!(names.len(), all.len());
    }
}
