//! What a crew's own record expects of one trial to come, where it has earned to be heard.

use super::learning::{Basis, Conditions, Expectation, Learned, MeanErrors, Observation, Standing};
use crate::site::Welder;
use crate::units::{Temperature, TravelSpeed};

/// The middle to expect at one trial, and what that rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The middle and its band.
    pub expected: Expectation,
    /// From this many trials with a closed window.
    pub trials: usize,
    /// Which temperature it goes by.
    pub basis: Basis,
    /// That temperature, as it was asked for.
    pub temperature: Temperature,
    /// The speed that was asked for; `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
    /// How it has done on this record against carrying the last center over.
    pub errors: MeanErrors,
    /// The middle lies within the welder's heats.
    pub within_heats: bool,
}

/// What `record`, the closed windows of `welder` on one sheet, expects under `asked`; `None` until
/// the estimate has earned to be offered.
pub fn estimate(record: &[Observation], welder: &Welder, asked: &Conditions) -> Option<Estimate> {
    let basis = Basis::for_record(record, asked);
    let learned = Learned::from_record(record, basis);
    let Standing::Earned(errors) = learned.standing() else { return None };
    let expected = learned.offer(asked)?;
    let middle = expected.middle;
    Some(Estimate {
        expected,
        trials: learned.trials(),
        basis,
        temperature: basis.temperature(asked)?,
        speed: asked.speed,
        errors,
        within_heats: !middle.is_below(welder.heat_low) && !middle.is_above(welder.heat_max),
    })
}
