//! Writing the table.

use std::io::{self, Write};

use chrono::{DateTime, SecondsFormat, Utc};

use super::columns::{HEAT, STRIP, all, guard};
use crate::store::book::entry::RecordedTrial;
use crate::store::book::fault::BookFault;
use crate::store::book::reading::Thread;
use crate::testweld::{HeatTrial, Strip};
use crate::units::Temperature;

/// Writes trials as they stand, one row a strip; returns the number of trials. What is no trial is
/// passed over.
///
/// # Errors
/// [`BookFault::Stream`] where `out` cannot be written.
pub fn export_table(trials: &[Thread], out: &mut impl Write) -> Result<u64, BookFault> {
    let write = || -> Result<u64, csv::Error> {
        let mut table = csv::Writer::from_writer(out);
        table.write_record(all())?;
        let mut count = 0;
        for thread in trials {
            let Some(recorded) = thread.trial() else { continue };
            for row in rows(thread, recorded) {
                table.write_record(&row)?;
            }
            count += 1;
        }
        table.flush()?;
        Ok(count)
    };
    write().map_err(|error| BookFault::Stream {
        doing: "write the export",
        cause: io::Error::from(error),
    })
}

fn rows(thread: &Thread, recorded: &RecordedTrial) -> Vec<Vec<String>> {
    let trial = trial_cells(thread, recorded);
    let nothing = |columns: usize| vec![String::new(); columns];
    let mut rows = Vec::new();
    for (index, heat) in recorded.trial.heats.iter().enumerate() {
        let heat_cells = heat_cells(index + 1, heat);
        for (index, strip) in heat.strips.iter().enumerate() {
            rows.push([trial.clone(), heat_cells.clone(), strip_cells(index + 1, strip)].concat());
        }
        if heat.strips.is_empty() {
            rows.push([trial.clone(), heat_cells, nothing(STRIP.len())].concat());
        }
    }
    if rows.is_empty() {
        rows.push([trial, nothing(HEAT.len()), nothing(STRIP.len())].concat());
    }
    rows
}

fn trial_cells(thread: &Thread, recorded: &RecordedTrial) -> Vec<String> {
    let (entry, trial) = (&thread.current, &recorded.trial);
    vec![
        entry.id.to_string(),
        guard(&entry.site.key),
        guard(&entry.site.name),
        moment(entry.recorded_at),
        guard(&entry.recorded_by),
        thread.history.len().to_string(),
        moment(trial.when),
        guard(&trial.who),
        text(recorded.checkpoint.as_ref()),
        guard(&trial.welder),
        trial.welder_kind.name().to_owned(),
        trial.polymer.name().to_owned(),
        trial.thickness.millimeters().to_string(),
        text(trial.lot.as_ref()),
        text(trial.roll.as_ref()),
        trial.ambient.celsius().to_string(),
        number(trial.sheet.map(Temperature::celsius)),
        number(recorded.forecast.map(|forecast| forecast.ambient.celsius())),
        recorded.forecast.map(|forecast| moment(forecast.issued_at)).unwrap_or_default(),
        text(trial.weights.as_ref()),
        text(trial.air_flow.as_ref()),
        number(trial.speed.map(|speed| speed.feet_per_minute())),
        text(trial.note.as_ref()),
    ]
}

fn heat_cells(position: usize, heat: &HeatTrial) -> Vec<String> {
    vec![
        position.to_string(),
        heat.heat.celsius().to_string(),
        number(heat.speed.map(|speed| speed.feet_per_minute())),
        text(heat.weights.as_ref()),
        text(heat.air_flow.as_ref()),
    ]
}

fn strip_cells(position: usize, strip: &Strip) -> Vec<String> {
    let signs: Vec<_> = strip.signs.iter().map(|sign| sign.name()).collect();
    vec![
        position.to_string(),
        strip.bond_width.millimeters().to_string(),
        strip.parted.name().to_owned(),
        signs.join(" "),
        strip.peeled.name().to_owned(),
    ]
}

fn moment(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::AutoSi, true)
}

/// The shortest text that reads back as the same number.
fn number(value: Option<f64>) -> String {
    value.map(|value| value.to_string()).unwrap_or_default()
}

fn text(text: Option<&String>) -> String {
    text.map(|text| guard(text)).unwrap_or_default()
}
