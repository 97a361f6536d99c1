//! One answer held against the door of the book, before the trial is whole.

use super::draft::{Desk, Draft};
use super::flags;
use crate::testweld::{HeatTrial, accept};
use crate::units::Temperature;

/// Whether what is written so far can be true; the rest is filled in with what the door lets pass,
/// so that the answers alone are judged.
///
/// # Errors
/// In words, why it cannot.
pub(super) fn can_be_true(draft: &Draft, desk: &Desk<'_>) -> Result<(), String> {
    let first = desk.site.welders.first();
    let heat = first.map_or(Temperature::from_celsius(400.0), |welder| welder.heat_low);
    let passing = Draft {
        who: draft.who.clone().or_else(|| Some("somebody".to_owned())),
        air: draft.air.or(Some(Temperature::from_celsius(20.0))),
        welder: draft.welder.clone().or_else(|| first.map(|welder| welder.name.clone())),
        heats: if draft.heats.is_empty() {
            vec![HeatTrial::new(heat, Vec::new())]
        } else {
            draft.heats.clone()
        },
        ..draft.clone()
    };
    let Ok(trial) = passing.into_trial(desk, flags::flag_of) else { return Ok(()) };
    let refused = accept(&trial, &desk.site.welders, desk.now).err();
    refused.map_or(Ok(()), |refusal| Err(refusal.said(desk.site.language)))
}
