//! One row for each strip, for a spreadsheet.

use chrono_tz::Tz;

use super::judged_text::of_heat;
use crate::quality::{KeptTrial, Withdrawal, WithdrawnTrial};
use crate::render::figures::round_to;
use crate::testweld::{RunSetting, Strip};
use crate::units::UnitSystem;

/// Trials as CSV (RFC 4180), oldest first; those that were withdrawn have `withdrawn` for a verdict. A heat without strips has one row with none.
///
/// Numbers are in the site's units, which the head names. A text that a spreadsheet would take for
/// a formula gets an apostrophe in front; export the book for a copy that loses nothing.
///
/// # Errors
/// When a row cannot be written; in memory that does not happen.
pub fn strips_csv(
    trials: &[KeptTrial],
    withdrawn: &[WithdrawnTrial],
    zone: Tz,
    units: UnitSystem,
) -> Result<String, csv::Error> {
    let counted = trials.iter().map(|kept| (kept, None));
    let withdrawn = withdrawn.iter().map(|one| (&one.trial, Some(&one.withdrawal)));
    let mut trials: Vec<(&KeptTrial, Option<&Withdrawal>)> = counted.chain(withdrawn).collect();
    trials.sort_by(|(one, _), (other, _)| {
        one.when().cmp(&other.when()).then_with(|| one.id.cmp(&other.id))
    });
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(head(units))?;
    for (kept, withdrawal) in trials {
        for row in rows(kept, withdrawal, zone, units) {
            writer.write_record(row)?;
        }
    }
    let bytes = writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn head(units: UnitSystem) -> Vec<String> {
    let (heat, speed, width) = match units {
        UnitSystem::Us => ("degF", "ft_min", "in"),
        UnitSystem::Metric => ("degC", "m_min", "mm"),
    };
    [
        "trial".to_owned(),
        "when".to_owned(),
        "who".to_owned(),
        "checkpoint".to_owned(),
        "welder".to_owned(),
        "polymer".to_owned(),
        format!("thickness_{}", units.thickness()),
        "lot".to_owned(),
        "roll".to_owned(),
        format!("air_{heat}"),
        format!("sheet_{heat}"),
        "weights".to_owned(),
        "air_flow".to_owned(),
        format!("speed_{speed}"),
        format!("heat_{heat}"),
        "verdict".to_owned(),
        "strip".to_owned(),
        format!("width_{width}"),
        "parted".to_owned(),
        "signs".to_owned(),
        "peeled".to_owned(),
        format!("setting_{heat}"),
        format!("ran_{heat}"),
        "note".to_owned(),
        "corrected_by".to_owned(),
        "corrected_why".to_owned(),
        "withdrawn_by".to_owned(),
        "withdrawn_why".to_owned(),
    ]
    .to_vec()
}

fn rows(
    kept: &KeptTrial,
    withdrawal: Option<&Withdrawal>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<Vec<String>> {
    let judged = &kept.judged;
    let trial = &judged.trial;
    let number = |value: Option<f64>| {
        value.map_or_else(String::new, |value| round_to(value, 1e4).to_string())
    };
    let words = |words: Option<&String>| words.map_or_else(String::new, |words| no_formula(words));
    let mut rows = Vec::new();
    for heat in &judged.heats {
        for tried in of_heat(trial, heat) {
            let first = [
                no_formula(&kept.id),
                trial.when.with_timezone(&zone).to_rfc3339(),
                no_formula(&trial.who),
                words(kept.checkpoint.as_ref()),
                no_formula(&trial.welder),
                trial.polymer.name().to_owned(),
                number(Some(trial.thickness.in_units(units))),
                words(trial.lot.as_ref()),
                words(trial.roll.as_ref()),
                number(Some(trial.ambient.in_units(units))),
                number(trial.sheet.map(|sheet| sheet.in_units(units))),
                words(tried.weights.as_ref().or(trial.weights.as_ref())),
                words(tried.air_flow.as_ref().or(trial.air_flow.as_ref())),
                number(trial.speed_of(tried).map(|speed| speed.in_units(units))),
                number(Some(tried.heat.in_units(units))),
                // Whoever counts verdicts must not count these.
                withdrawal.map_or_else(|| heat.verdict.name(), |_| "withdrawn").to_owned(),
            ];
            let setting = match judged.reading.setting {
                RunSetting::RunAt { .. } if withdrawal.is_some() => None,
                RunSetting::RunAt { heat, .. } => Some(heat.in_units(units)),
                RunSetting::DoNotWeld(_) => None,
            };
            let last = [
                number(setting),
                number(kept.ran.last().map(|ran| ran.heat.in_units(units))),
                words(trial.note.as_ref()),
                words(kept.correction.as_ref().map(|correction| &correction.by)),
                words(kept.correction.as_ref().map(|correction| &correction.why)),
                words(withdrawal.map(|withdrawal| &withdrawal.said.by)),
                words(withdrawal.map(|withdrawal| &withdrawal.said.why)),
            ];
            let strips =
                (1..).zip(&tried.strips).map(|(place, strip)| of_strip(place, strip, units));
            let mut strips: Vec<[String; 5]> = strips.collect();
            if strips.is_empty() {
                strips.push(std::array::from_fn(|_| String::new()));
            }
            rows.extend(strips.into_iter().map(|strip| {
                first.iter().chain(&strip).chain(&last).cloned().collect::<Vec<String>>()
            }));
        }
    }
    rows
}

fn of_strip(place: usize, strip: &Strip, units: UnitSystem) -> [String; 5] {
    let signs: Vec<&str> = strip.signs.iter().map(|sign| sign.name()).collect();
    [
        place.to_string(),
        round_to(strip.bond_width.in_units(units), 1e4).to_string(),
        strip.parted.name().to_owned(),
        signs.join(" "),
        strip.peeled.name().to_owned(),
    ]
}

/// Spreadsheets run a cell that begins like a formula.
fn no_formula(text: &str) -> String {
    let starts_like_one = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if starts_like_one { format!("'{text}") } else { text.to_owned() }
}
