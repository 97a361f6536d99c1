//! A correction from the office's form, by the same way as `fairseam record --correct`.

use std::path::PathBuf;

use crate::cli::arguments::{ForecastArguments, Format};
use crate::cli::kept_book::KeptBook;
use crate::cli::record::draft::Desk;
use crate::cli::record::flags::RecordArguments;
use crate::cli::record::{Setup, record};
use crate::quality::KeptTrial;
use crate::server::house::{Corrected, HouseFault, form_mark};

/// Writes the corrected form behind the one that the office had before its eyes.
pub(super) fn correct(
    correction: &Corrected<'_>,
    desk: &Desk<'_>,
    trials: &[KeptTrial],
    book: &mut KeptBook,
) -> Result<(), HouseFault> {
    let one = |name: &str| {
        let found = correction.fields.iter().find(|(field, _)| field == name);
        found.map(|(_, text)| text.trim().to_owned()).filter(|text| !text.is_empty())
    };
    let all = |name: &str| -> Vec<String> {
        let fields = correction.fields.iter().filter(|(field, _)| field == name);
        fields.map(|(_, text)| text.trim().to_owned()).filter(|text| !text.is_empty()).collect()
    };
    let kept = trials.iter().find(|kept| kept.id == correction.id);
    let kept = kept.ok_or_else(|| {
        HouseFault::NotFound(format!("there is no trial {} of this site", correction.id))
    })?;
    if one("seen") != Some(form_mark(kept)) {
        return Err(HouseFault::Conflict(
            "this trial was corrected meanwhile: look at it again before you correct it".to_owned(),
        ));
    }
    let arguments = RecordArguments {
        site: PathBuf::new(),
        json: false,
        welder: one("welder"),
        who: one("who"),
        checkpoint: one("checkpoint"),
        at: one("at"),
        air: one("air"),
        sheet_temperature: one("sheet-temperature"),
        speed: one("speed"),
        lot: one("lot"),
        roll: one("roll"),
        polymer: one("polymer"),
        thickness: one("thickness"),
        weights: one("weights"),
        air_flow: one("air-flow"),
        heat: all("heat"),
        strips: all("strips"),
        note: one("note"),
        run_setting: None,
        correct: Some(correction.id.to_owned()),
        withdraw: None,
        why: Some(correction.why.to_owned()),
        by: Some(correction.holder.to_owned()),
        language: None,
        dry_run: false,
        format: Format::Text,
        forecast: ForecastArguments { forecast: None, offline: true },
    };
    let setup = Setup { desk: *desk, plan: None, trials };
    let done = record(&arguments, &setup, book, &mut std::io::empty(), &mut std::io::sink());
    done.map(drop).map_err(|error| match error.downcast_ref::<crate::store::book::BookFault>() {
        Some(fault) => super::house::of_book(fault),
        None => HouseFault::Refused(format!("{error:#}")),
    })
}
