//! What an entry says, as JSON: the text that the chain seals. Units stand in the keys.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::entry::{Content, ForecastThen, RecordedTrial, Run};
use super::trial_words::{kind, parted, peeled, polymer, signs};
use crate::testweld::{HeatTrial, Strip, Trial};
use crate::units::{BondWidth, Temperature, Thickness, TravelSpeed, instant};

/// Version of the payload that this program writes and reads.
pub(super) const FORMAT: u32 = 1;

#[derive(Deserialize)]
struct Versioned {
    format: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Payload {
    format: u32,
    content: ContentWire,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
enum ContentWire {
    Trial(Box<TrialWire>),
    Run(RunWire),
    Note(String),
    Withdrawn,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct TrialWire {
    #[serde(deserialize_with = "instant::read")]
    when: DateTime<Utc>,
    who: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    checkpoint: Option<String>,
    welder: String,
    welder_kind: String,
    polymer: String,
    thickness_mm: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    roll: Option<String>,
    ambient_c: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sheet_c: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    forecast: Option<ForecastWire>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    weights: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    air_flow: Option<String>,
    /// In ft/min, in which the trade works and the program holds it: no digit is lost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    speed_ft_per_min: Option<f64>,
    heats: Vec<HeatWire>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ForecastWire {
    ambient_c: f64,
    #[serde(deserialize_with = "instant::read")]
    issued_at: DateTime<Utc>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HeatWire {
    heat_c: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    speed_ft_per_min: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    weights: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    air_flow: Option<String>,
    strips: Vec<StripWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StripWire {
    bond_width_mm: f64,
    parted: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    signs: Vec<String>,
    peeled: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RunWire {
    #[serde(deserialize_with = "instant::read")]
    from: DateTime<Utc>,
    welder: String,
    heat_c: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    speed_ft_per_min: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

/// The payload of `content`, on one line. Numbers must be finite: JSON has no others.
pub(super) fn write(content: &Content) -> Result<String, serde_json::Error> {
    let content = match content {
        Content::Trial(recorded) => ContentWire::Trial(Box::new(trial_wire(recorded))),
        Content::Run(run) => ContentWire::Run(run_wire(run)),
        Content::Note(note) => ContentWire::Note(note.clone()),
        Content::Withdrawn => ContentWire::Withdrawn,
    };
    serde_json::to_string(&Payload { format: FORMAT, content })
}

/// What a payload says, or what is wrong with it.
pub(super) fn read(text: &str) -> Result<Content, String> {
    let wrong = |error: serde_json::Error| error.to_string();
    let Versioned { format } = serde_json::from_str(text).map_err(wrong)?;
    if format != FORMAT {
        return Err(format!(
            "its format is {format}, and this fairseam reads {FORMAT}: use the newest fairseam"
        ));
    }
    let payload: Payload = serde_json::from_str(text).map_err(wrong)?;
    Ok(match payload.content {
        ContentWire::Trial(trial) => Content::Trial(Box::new(trial_content(*trial)?)),
        ContentWire::Run(run) => Content::Run(run_content(run)),
        ContentWire::Note(note) => Content::Note(note),
        ContentWire::Withdrawn => Content::Withdrawn,
    })
}

/// An empty text says no more than none, and a table could not tell the two apart.
pub(super) fn some_text(text: Option<&String>) -> Option<String> {
    text.filter(|text| !text.is_empty()).cloned()
}

fn speed_wire(speed: Option<TravelSpeed>) -> Option<f64> {
    speed.map(TravelSpeed::feet_per_minute)
}

fn speed_content(speed: Option<f64>) -> Option<TravelSpeed> {
    speed.map(TravelSpeed::from_feet_per_minute)
}

fn trial_wire(recorded: &RecordedTrial) -> TrialWire {
    let trial = &recorded.trial;
    TrialWire {
        when: trial.when,
        who: trial.who.clone(),
        checkpoint: some_text(recorded.checkpoint.as_ref()),
        welder: trial.welder.clone(),
        welder_kind: trial.welder_kind.name().to_owned(),
        polymer: trial.polymer.name().to_owned(),
        thickness_mm: trial.thickness.millimeters(),
        lot: some_text(trial.lot.as_ref()),
        roll: some_text(trial.roll.as_ref()),
        ambient_c: trial.ambient.celsius(),
        sheet_c: trial.sheet.map(Temperature::celsius),
        forecast: recorded.forecast.map(|forecast| ForecastWire {
            ambient_c: forecast.ambient.celsius(),
            issued_at: forecast.issued_at,
        }),
        weights: some_text(trial.weights.as_ref()),
        air_flow: some_text(trial.air_flow.as_ref()),
        speed_ft_per_min: speed_wire(trial.speed),
        heats: trial.heats.iter().map(heat_wire).collect(),
        note: some_text(trial.note.as_ref()),
    }
}

fn heat_wire(heat: &HeatTrial) -> HeatWire {
    HeatWire {
        heat_c: heat.heat.celsius(),
        speed_ft_per_min: speed_wire(heat.speed),
        weights: some_text(heat.weights.as_ref()),
        air_flow: some_text(heat.air_flow.as_ref()),
        strips: heat.strips.iter().map(strip_wire).collect(),
    }
}

fn strip_wire(strip: &Strip) -> StripWire {
    StripWire {
        bond_width_mm: strip.bond_width.millimeters(),
        parted: strip.parted.name().to_owned(),
        signs: strip.signs.iter().map(|sign| sign.name().to_owned()).collect(),
        peeled: strip.peeled.name().to_owned(),
    }
}

fn run_wire(run: &Run) -> RunWire {
    RunWire {
        from: run.from,
        welder: run.welder.clone(),
        heat_c: run.heat.celsius(),
        speed_ft_per_min: speed_wire(run.speed),
        note: some_text(run.note.as_ref()),
    }
}

fn trial_content(wire: TrialWire) -> Result<RecordedTrial, String> {
    let heats = wire.heats.into_iter().map(heat_content).collect::<Result<_, String>>()?;
    let forecast = wire.forecast.map(|forecast| ForecastThen {
        ambient: Temperature::from_celsius(forecast.ambient_c),
        issued_at: forecast.issued_at,
    });
    let trial = Trial {
        when: wire.when,
        who: wire.who,
        welder: wire.welder,
        welder_kind: kind(&wire.welder_kind)?,
        polymer: polymer(&wire.polymer)?,
        thickness: Thickness::from_millimeters(wire.thickness_mm),
        lot: wire.lot,
        roll: wire.roll,
        ambient: Temperature::from_celsius(wire.ambient_c),
        sheet: wire.sheet_c.map(Temperature::from_celsius),
        weights: wire.weights,
        air_flow: wire.air_flow,
        speed: speed_content(wire.speed_ft_per_min),
        heats,
        note: wire.note,
    };
    Ok(RecordedTrial { trial, checkpoint: wire.checkpoint, forecast })
}

fn heat_content(wire: HeatWire) -> Result<HeatTrial, String> {
    let strips = wire.strips.into_iter().map(strip_content).collect::<Result<_, String>>()?;
    Ok(HeatTrial {
        heat: Temperature::from_celsius(wire.heat_c),
        speed: speed_content(wire.speed_ft_per_min),
        weights: wire.weights,
        air_flow: wire.air_flow,
        strips,
    })
}

fn strip_content(wire: StripWire) -> Result<Strip, String> {
    Ok(Strip {
        bond_width: BondWidth::from_millimeters(wire.bond_width_mm),
        parted: parted(&wire.parted)?,
        signs: signs(wire.signs.iter().map(String::as_str))?,
        peeled: peeled(&wire.peeled)?,
    })
}

fn run_content(wire: RunWire) -> Run {
    Run {
        from: wire.from,
        welder: wire.welder,
        heat: Temperature::from_celsius(wire.heat_c),
        speed: speed_content(wire.speed_ft_per_min),
        note: wire.note,
    }
}
