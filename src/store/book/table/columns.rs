//! The columns, in order. Those of a trial repeat on each of its rows, those of a heat likewise.

/// About the trial. `recorded_at`, `recorded_by` and `corrections` are for reading only.
pub(super) const TRIAL: [&str; 23] = [
    "entry",
    "site_key",
    "site",
    "recorded_at",
    "recorded_by",
    "corrections",
    "when",
    "who",
    "checkpoint",
    "welder",
    "welder_kind",
    "polymer",
    "thickness_mm",
    "lot",
    "roll",
    "ambient_c",
    "sheet_c",
    "forecast_ambient_c",
    "forecast_issued_at",
    "weights",
    "air_flow",
    "speed_ft_per_min",
    "note",
];

/// About one heat of it; all empty for a trial without heats.
pub(super) const HEAT: [&str; 5] =
    ["heat", "heat_c", "heat_speed_ft_per_min", "heat_weights", "heat_air_flow"];

/// About one strip of the heat; all empty for a heat without strips.
pub(super) const STRIP: [&str; 5] = ["strip", "bond_width_mm", "parted", "signs", "peeled"];

/// Without these there is no trial to read.
pub(super) const NEEDED: [&str; 12] = [
    "entry",
    "when",
    "who",
    "welder",
    "welder_kind",
    "polymer",
    "thickness_mm",
    "ambient_c",
    "heat",
    "heat_c",
    "bond_width_mm",
    "parted",
];

/// Every column.
pub(super) fn all() -> impl Iterator<Item = &'static str> {
    TRIAL.into_iter().chain(HEAT).chain(STRIP)
}

/// A text beginning with one of these would be run as a formula by some spreadsheets; the
/// apostrophe is the guard itself.
const GUARDED: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\''];

/// `text` as a cell that no spreadsheet takes for a formula.
pub(super) fn guard(text: &str) -> String {
    if text.starts_with(GUARDED) { format!("'{text}") } else { text.to_owned() }
}

/// The text of a cell: what [`guard`] was given.
pub(super) fn unguard(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if text.starts_with(GUARDED) => text,
        _ => cell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_guard_comes_off_again_and_an_apostrophe_typed_by_hand_stays() {
        for text in ["", "=1+1", "'=1", "''", "'", "'tis", "-5", "@x", "a=b", "\t", "plain"] {
            assert_eq!(unguard(&guard(text)), text);
            assert!(!guard(text).starts_with(['=', '+', '-', '@', '\t', '\r']), "{text:?}");
        }
        assert_eq!(unguard("'tis"), "'tis");
    }

    #[test]
    fn every_column_has_its_own_name_and_the_needed_ones_exist() {
        let names: std::collections::BTreeSet<_> = all().collect();
        assert_eq!(names.len(), TRIAL.len() + HEAT.len() + STRIP.len());
        assert!(NEEDED.iter().all(|needed| names.contains(needed)));
    }
}
