//! The questions by name.

/// One question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Checkpoint,
    Welder,
    When,
    Who,
    Air,
    Sheet,
    Lot,
    Roll,
    Weights,
    AirFlow,
    Speed,
    Heats,
    /// Of the heat at this place.
    Strips(usize),
    Note,
    Ran,
    Confirm,
}
