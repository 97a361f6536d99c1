//! What changes a trial that is in the book: a correction, a withdrawal, a putting back. Each is a new
//! entry; nothing is removed.

use anyhow::{Context, anyhow, bail};

use super::flags::RecordArguments;
use super::sink::TrialSink;
use super::{Recorded, Setup, fault};
use crate::cli::arguments::Format;
use crate::quality::{Correction, KeptTrial, Withdrawal, WithdrawnTrial};
use crate::render::trial::{self, Show};
use crate::words::{Language, tell};

/// Withdraws the trial that is called `id`.
///
/// # Errors
/// When there is no such trial, it was withdrawn before, or the book cannot be written.
pub(super) fn withdraw(
    arguments: &RecordArguments,
    id: &str,
    setup: &Setup<'_>,
    book: &mut dyn TrialSink,
) -> anyhow::Result<Recorded> {
    let kept = find(id, setup, book)?;
    let said = said(arguments);
    if !arguments.dry_run {
        book.withdraw(id, &said)?;
    }
    let language = setup.desk.site.language;
    let told = match arguments.dry_run {
        true => tell!(language, "record-dry-run"),
        false => tell!(language, "record-withdrawn", id),
    };
    let desk = &setup.desk;
    let show = Show { language: desk.site.language, zone: desk.zone, units: desk.site.units };
    let withdrawal = Withdrawal { at: desk.now, said, forms_before: kept.earlier.len() + 1 };
    let withdrawn = WithdrawnTrial { trial: kept.clone(), withdrawal };
    let shown = match arguments.format {
        Format::Text => trial::withdrawn_notice(show, &withdrawn),
        Format::Json => {
            let written = !arguments.dry_run;
            trial::withdrawn_json(show, &desk.site.name, &withdrawn, written)
                .context("a number of the trial cannot be written as JSON")?
        }
    };
    Ok(Recorded { shown, told: Some(told) })
}

fn find<'a>(id: &str, setup: &Setup<'a>, book: &dyn TrialSink) -> anyhow::Result<&'a KeptTrial> {
    if let Some(kept) = setup.trials.iter().find(|kept| kept.id == id) {
        return Ok(kept);
    }
    match book.withdrawn()?.iter().find(|withdrawn| withdrawn.trial.id == id) {
        Some(before) => {
            let zone = setup.desk.zone;
            let on = before.withdrawal.at.with_timezone(&zone).format("%Y-%m-%d %H:%M");
            let by = trial::clean(&before.withdrawal.said.by);
            let (language, on) = (setup.desk.site.language, on.to_string());
            bail!(tell!(language, "record-withdrawn-already", id, by, on))
        }
        None => Err(no_trial(id, setup)),
    }
}

/// The trial that is to be corrected.
pub(super) fn corrected<'a>(
    arguments: &RecordArguments,
    setup: &Setup<'a>,
) -> anyhow::Result<Option<&'a KeptTrial>> {
    let Some(id) = &arguments.correct else { return Ok(None) };
    let found = setup.trials.iter().find(|kept| kept.id == *id);
    found.map(Some).ok_or_else(|| no_trial(id, setup))
}

/// The withdrawn trial that is to be corrected, and so put back.
pub(super) fn put_back(
    arguments: &RecordArguments,
    setup: &Setup<'_>,
    book: &dyn TrialSink,
) -> anyhow::Result<Option<WithdrawnTrial>> {
    let stands = |id: &String| setup.trials.iter().any(|kept| kept.id == *id);
    let Some(id) = arguments.correct.as_ref().filter(|id| !stands(id)) else { return Ok(None) };
    Ok(book.withdrawn()?.into_iter().find(|withdrawn| withdrawn.trial.id == *id))
}

fn no_trial(id: &str, setup: &Setup<'_>) -> anyhow::Error {
    anyhow!(tell!(setup.desk.site.language, "record-no-trial", id = fault::quoted(id)))
}

/// Whoever changes something says who and why.
pub(super) fn check_reason(arguments: &RecordArguments, language: Language) -> anyhow::Result<()> {
    for (flag, text) in [("--why", &arguments.why), ("--by", &arguments.by)] {
        if text.as_ref().is_some_and(|text| text.trim().is_empty()) {
            bail!(tell!(language, "typed-empty", flag));
        }
    }
    Ok(())
}

pub(super) fn correction(
    arguments: &RecordArguments,
    corrected: Option<&KeptTrial>,
) -> Option<(String, Correction)> {
    Some((corrected?.id.clone(), said(arguments)))
}

/// Who changes something, and why.
fn said(arguments: &RecordArguments) -> Correction {
    let words = |text: &Option<String>| text.clone().unwrap_or_default();
    Correction { by: words(&arguments.by), why: words(&arguments.why) }
}
