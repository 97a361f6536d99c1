//! Trials that were withdrawn: told wherever trials are, and never among those that count.

use chrono_tz::Tz;

use super::from_judged::{VERSION, pretty};
use super::layout::{bullet, page, wrap};
use super::list_text::trial_text;
use super::wire_report::RecordedWithdrawalJson;
use super::{Show, certifies_nothing};
use crate::quality::{Withdrawal, WithdrawnTrial};
use crate::units::UnitSystem;
use crate::words::tell;

/// Above withdrawn trials, wherever they are listed.
pub(super) const TITLE: &str = "Withdrawn, and counted for nothing";

/// What stands now: for whoever has just withdrawn it, in the crew's language.
pub fn withdrawn_notice(show: Show, withdrawn: &WithdrawnTrial) -> String {
    let trial = &withdrawn.trial.judged.trial;
    let said = tell!(
        show.language,
        "withdrawn-notice",
        id = &withdrawn.trial.id,
        welder = &trial.welder,
        when = trial.when.with_timezone(&show.zone).format("%Y-%m-%d %H:%M").to_string(),
        by = &withdrawn.withdrawal.said.by,
        why = &withdrawn.withdrawal.said.why,
    );
    page(&wrap(&said, "", "  "))
}

/// The same as JSON; `None` where a number of the trial is none.
pub fn withdrawn_json(
    show: Show,
    site: &str,
    withdrawn: &WithdrawnTrial,
    written: bool,
) -> Option<String> {
    pretty(&RecordedWithdrawalJson {
        fairseam: VERSION,
        site: site.to_owned(),
        written,
        withdrawn: show.withdrawn(withdrawn)?,
        caution: certifies_nothing(show.language),
    })
}

/// `withdrawn by M. on 2027-04-21 09:10: keyed in twice`.
pub(super) fn withdrawn_words(withdrawal: &Withdrawal, zone: Tz) -> String {
    let on = withdrawal.at.with_timezone(&zone).format("%Y-%m-%d %H:%M");
    format!("withdrawn by {} on {on}: {}", withdrawal.said.by, withdrawal.said.why)
}

/// One line for each: `trial 3, 2027-04-21 07:05, automatic 1: withdrawn by …`.
pub fn withdrawn_line(withdrawn: &WithdrawnTrial, zone: Tz) -> String {
    let trial = &withdrawn.trial.judged.trial;
    let when = trial.when.with_timezone(&zone).format("%Y-%m-%d %H:%M");
    let words = withdrawn_words(&withdrawn.withdrawal, zone);
    format!("trial {}, {when}, {}: {words}", withdrawn.trial.id, trial.welder)
}

/// In the order in which they were made.
pub(super) fn withdrawn_lines(withdrawn: &[WithdrawnTrial], zone: Tz) -> Vec<String> {
    let mut sorted: Vec<&WithdrawnTrial> = withdrawn.iter().collect();
    sorted.sort_by_key(|one| one.trial.when());
    sorted.into_iter().flat_map(|one| bullet(&withdrawn_line(one, zone))).collect()
}

/// A withdrawn trial whole: that it counts for nothing stands before all that it said.
pub fn withdrawn_trial_text(withdrawn: &WithdrawnTrial, zone: Tz, units: UnitSystem) -> String {
    let words = withdrawn_words(&withdrawn.withdrawal, zone);
    let warning = format!("WITHDRAWN, counts for nothing: {words}");
    let before = page(&wrap(&warning, "", "  "));
    before + "What it said:\n\n" + &trial_text(&withdrawn.trial, zone, units)
}
