//! What can be typed behind `fairseam record`, and the trial that it makes.

use std::path::PathBuf;

use clap::Args;

use super::draft::{Desk, Draft};
use super::fault::{Fault, Faults, quoted};
use super::quantity::{self, Typist};
use super::strip_syntax;
use crate::cli::arguments::{ForecastArguments, Format};
use crate::site::Polymer;
use crate::testweld::HeatTrial;
use crate::units::{Temperature, TravelSpeed};
use crate::words::{Language, tell};

/// Longest id of a checkpoint, in characters: a break's name has at most 200.
const LONGEST_CHECKPOINT_ID: usize = 220;

/// Write one trial into the test-weld book: asked question by question, or as flags, or as JSON.
#[derive(Debug, Args)]
#[command(after_help = "Without any of the trial's flags, each is asked for in turn.

A strip is WIDTH HOW[+SIGN...] [along] [xN]; strips are separated by commas:
  1.5 film-tear x3              three that tore to the scrim over 1.5
  1 1/4 film-tear, 0.3 cold     two, one of them cold
  2 film-tear+browning          wide, and burnt
  1.5 film-tear along           peeled along the seam, which tells nothing
HOW is film-tear, cold or mixed; SIGN is browning, yellowing, char, heavy-bleed-out,
void or scrim-not-reached. The beginning of a word will do: 1.5 f x3. No strip at all
is `none`.

Examples:
  fairseam record roof.toml
  fairseam record roof.toml --welder 'automatic 1' --who J. --air 68 --speed 9 \\
    --heat 700 --strips '0.2 cold x3' --heat 800 --strips '1.5 film-tear x3' \\
    --heat 900 --strips '1.6 film-tear x3' \\
    --heat 1000 --strips '2 film-tear+browning x3'
  fairseam record roof.toml --json < trial.json
  fairseam record roof.toml --correct 1 --by M. --why 'lot misread' --lot B7
  fairseam record roof.toml --withdraw 1 --by M. --why 'keyed in twice'")]
pub struct RecordArguments {
    /// The site file.
    pub site: PathBuf,
    /// Read the trial as JSON from standard input, by docs/trial.schema.json.
    #[arg(long, conflicts_with_all = ["welder", "who", "checkpoint", "at", "air", "sheet_temperature", "speed",
        "lot", "roll", "polymer", "thickness", "weights", "air_flow", "heat", "strips", "note",
        "run_setting"])]
    pub json: bool,
    /// The welder, as the site file names it; not needed where there is one only.
    #[arg(long, value_name = "NAME")]
    pub welder: Option<String>,
    /// Who made the trial.
    #[arg(long, value_name = "NAME")]
    pub who: Option<String>,
    /// The checkpoint of the plan that it was made for, such as `after-lunch` [default: by its time]
    #[arg(long, value_name = "ID")]
    pub checkpoint: Option<String>,
    /// When: HH:MM of today, or 'YYYY-MM-DD HH:MM', on the site's clock, or RFC 3339 [default: now]
    #[arg(long, value_name = "TIME")]
    pub at: Option<String>,
    /// Air in the shade, read there, in the site's unit.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub air: Option<String>,
    /// The sheet's own surface, by infrared thermometer.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub sheet_temperature: Option<String>,
    /// The speed held at every heat; none for a hand welder.
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub speed: Option<String>,
    /// The sheet's lot.
    #[arg(long)]
    pub lot: Option<String>,
    /// The roll.
    #[arg(long)]
    pub roll: Option<String>,
    /// pvc, tpo or kee, where it is not the site's.
    #[arg(long, value_name = "POLYMER")]
    pub polymer: Option<String>,
    /// The sheet's thickness, where it is not the site's.
    #[arg(long, value_name = "THICKNESS")]
    pub thickness: Option<String>,
    /// The machine's weights, in your words.
    #[arg(long, value_name = "WORDS")]
    pub weights: Option<String>,
    /// The machine's air flow, in your words.
    #[arg(long, value_name = "WORDS")]
    pub air_flow: Option<String>,
    /// A heat that was tried, once for each; `900 at 10` where its speed was not the trial's.
    #[arg(long, value_name = "HEAT", allow_hyphen_values = true)]
    pub heat: Vec<String>,
    /// Its strips, once for each heat, in the same order.
    #[arg(long, value_name = "STRIPS", allow_hyphen_values = true)]
    pub strips: Vec<String>,
    /// Anything else.
    #[arg(long)]
    pub note: Option<String>,
    /// The setting really run: `925 at 8`, or `925` for a hand welder.
    #[arg(long, value_name = "SETTING", allow_hyphen_values = true)]
    pub run_setting: Option<String>,
    /// Correct the trial of this number: a new entry; the old one stays readable.
    /// One that was withdrawn is put back.
    #[arg(long, value_name = "ID", requires_all = ["why", "by"], group = "change")]
    pub correct: Option<String>,
    /// Withdraw the trial of this number, which should not have been written down: a new entry; the old
    /// one stays readable and counts for nothing.
    #[arg(long, value_name = "ID", requires_all = ["why", "by"], group = "change", conflicts_with_all = [
        "json", "welder", "who", "checkpoint", "at", "air", "sheet_temperature", "speed", "lot",
        "roll", "polymer", "thickness", "weights", "air_flow", "heat", "strips", "note",
        "run_setting"])]
    pub withdraw: Option<String>,
    /// Why it is corrected or withdrawn.
    #[arg(long, value_name = "REASON", requires = "change")]
    pub why: Option<String>,
    /// Who corrects or withdraws it.
    #[arg(long, value_name = "NAME", requires = "change")]
    pub by: Option<String>,
    /// Judge the trial and write nothing.
    #[arg(long)]
    pub dry_run: bool,
    /// The language of questions and verdict: en or es [default: the site file's]
    #[arg(long, value_name = "LANGUAGE")]
    pub language: Option<Language>,
    /// How to print the verdict.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Where today's plan comes from.
    #[command(flatten)]
    pub forecast: ForecastArguments,
}

impl RecordArguments {
    /// Whether any flag says something of the trial itself.
    pub fn tells_a_trial(&self) -> bool {
        let texts = [
            &self.welder,
            &self.who,
            &self.checkpoint,
            &self.at,
            &self.air,
            &self.sheet_temperature,
            &self.speed,
            &self.lot,
            &self.roll,
            &self.polymer,
            &self.thickness,
            &self.weights,
            &self.air_flow,
            &self.note,
            &self.run_setting,
        ];
        texts.iter().any(|text| text.is_some()) || !self.heat.is_empty() || !self.strips.is_empty()
    }

    /// What the flags say of the trial.
    ///
    /// # Errors
    /// Every flag that cannot be read.
    pub fn draft(&self, desk: &Desk<'_>) -> Result<Draft, Faults> {
        let typist = desk.typist();
        let language = typist.language;
        let mut reader = Reader { typist, faults: Vec::new() };
        let draft = Draft {
            when: reader.read("--at", self.at.as_deref(), |text| desk.moment(text, language)),
            who: self.who.clone(),
            checkpoint: reader.read("--checkpoint", self.checkpoint.as_deref(), |text| {
                checkpoint_id(text, language)
            }),
            welder: self.welder.clone(),
            kind: None,
            polymer: reader
                .read("--polymer", self.polymer.as_deref(), |text| polymer(text, language)),
            thickness: reader.read("--thickness", self.thickness.as_deref(), |text| {
                quantity::thickness(text, typist)
            }),
            lot: self.lot.clone(),
            roll: self.roll.clone(),
            air: reader.temperature("--air", self.air.as_deref()),
            sheet: reader.temperature("--sheet-temperature", self.sheet_temperature.as_deref()),
            weights: self.weights.clone(),
            air_flow: self.air_flow.clone(),
            speed: reader
                .read("--speed", self.speed.as_deref(), |text| quantity::speed(text, typist)),
            heats: reader.heats(&self.heat, &self.strips),
            note: self.note.clone(),
            ran: reader
                .read("--run-setting", self.run_setting.as_deref(), |text| setting(text, typist)),
        };
        let faults = reader.faults;
        if faults.is_empty() { Ok(draft) } else { Err(Faults { language, all: faults }) }
    }
}

/// The flag of a part of a draft.
pub fn flag_of(part: &str) -> String {
    format!("--{}", part.replace('_', "-"))
}

/// `925 at 8`, or `925`.
pub(super) fn setting(
    text: &str,
    typist: Typist,
) -> Result<(Temperature, Option<TravelSpeed>), String> {
    let heat = strip_syntax::heat(text, typist)?;
    Ok((heat.heat, heat.speed))
}

/// The id of a checkpoint as typed.
pub(super) fn checkpoint_id(text: &str, language: Language) -> Result<String, String> {
    let id = text.trim();
    if id.is_empty() || id.chars().count() > LONGEST_CHECKPOINT_ID {
        let (most, found) = (LONGEST_CHECKPOINT_ID, quoted(text));
        return Err(tell!(language, "typed-checkpoint", most, found));
    }
    Ok(id.to_owned())
}

fn polymer(text: &str, language: Language) -> Result<Polymer, String> {
    [Polymer::Pvc, Polymer::Tpo, Polymer::Kee]
        .into_iter()
        .find(|polymer| polymer.name() == text)
        .ok_or_else(|| tell!(language, "typed-polymer", found = quoted(text)))
}

/// Reads on after a fault, so that all are told.
struct Reader {
    typist: Typist,
    faults: Vec<Fault>,
}

impl Reader {
    fn read<T>(
        &mut self,
        place: &str,
        text: Option<&str>,
        parse: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<T> {
        parse(text?).map_err(|said| self.faults.push(Fault::new(place, said))).ok()
    }

    fn temperature(&mut self, place: &str, text: Option<&str>) -> Option<Temperature> {
        let typist = self.typist;
        self.read(place, text, |text| quantity::temperature(text, typist))
    }

    /// The first heat has the first strips, and so on.
    fn heats(&mut self, heats: &[String], strips: &[String]) -> Vec<HeatTrial> {
        let typist = self.typist;
        if heats.len() != strips.len() {
            let (strips, heats) = (strips.len(), heats.len());
            let said = tell!(typist.language, "typed-strips-for-heats", strips, heats);
            self.faults.push(Fault::new("--strips", said));
        }
        let heats: Vec<Option<HeatTrial>> = (1..)
            .zip(heats)
            .map(|(number, text)| {
                let place = format!("--heat {number}");
                self.read(&place, Some(text), |text| strip_syntax::heat(text, typist))
            })
            .collect();
        (1..)
            .zip(strips)
            .zip(heats)
            .filter_map(|((number, text), heat)| {
                let place = format!("--strips {number}");
                let strips =
                    self.read(&place, Some(text), |text| strip_syntax::strips(text, typist));
                Some(HeatTrial { strips: strips?, ..heat? })
            })
            .collect()
    }
}
