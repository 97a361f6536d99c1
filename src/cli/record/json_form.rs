//! A trial as JSON, by `docs/trial.schema.json`; every fault at once, each with its path.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::draft::{Desk, Draft};
use super::fault::{Fault, Faults, quoted};
use super::flags::checkpoint_id;
use super::strict_json::Strict;
use crate::site::{Kind, Polymer};
use crate::testweld::{HeatTrial, MOST_HEATS, MOST_STRIPS, Parted, Peeled, Sign, Strip};
use crate::units::{BondWidth, Temperature, Thickness, TravelSpeed, UnitSystem};
use crate::words::Language;

/// Longest text that is read. A trial of a hundred heats with a hundred strips is far shorter.
pub const MAX_BYTES: usize = 4 << 20;

/// Whoever writes a program reads this one; what the crew has done wrong is told in the crew's.
const FOR_PROGRAMS: Language = Language::En;

const TRIAL_KEYS: &[&str] = &[
    "units",
    "at",
    "who",
    "checkpoint",
    "welder",
    "kind",
    "polymer",
    "thickness",
    "lot",
    "roll",
    "air",
    "sheet_temperature",
    "weights",
    "air_flow",
    "speed",
    "heats",
    "note",
    "ran",
];

/// The trial that `text` holds.
///
/// # Errors
/// When it is no JSON, or with every key that is unknown, missing, or holds what it cannot.
pub fn parse_json(text: &str, desk: &Desk<'_>) -> Result<Draft, Faults> {
    draft(&value(text)?, desk)
}

/// A trial that was sent, by the name that its sender has given to the sending.
#[derive(Debug, Clone, PartialEq)]
pub struct SentTrial {
    /// A UUID in lower case: the same however often the trial is sent.
    pub sent_id: String,
    /// The trial's own JSON, keys in order: the same for the same trial.
    pub json: String,
    /// The trial.
    pub draft: Draft,
}

/// The trial that `text` holds beside its `sent_id`.
///
/// # Errors
/// See [`parse_json`]; also without a `sent_id`.
pub fn parse_sent(text: &str, desk: &Desk<'_>) -> Result<SentTrial, Faults> {
    let mut value = value(text)?;
    let given = value.as_object_mut().and_then(|map| map.remove("sent_id"));
    let given = given.as_ref().and_then(Value::as_str).map(str::to_ascii_lowercase);
    let Some(sent_id) = given.filter(|id| is_uuid(id)) else {
        let said = "expected a UUID made by the sender, such as \
                    `6f1c2e0a-9d3b-4a57-8a31-0c5d2f6b7e84`";
        return Err(all(vec![Fault::new("sent_id", said)]));
    };
    Ok(SentTrial { sent_id, draft: draft(&value, desk)?, json: value.to_string() })
}

/// Source: RFC9562, section 4.
fn is_uuid(text: &str) -> bool {
    let groups: Vec<&str> = text.split('-').collect();
    let hexadecimal = |sign: u8| sign.is_ascii_digit() || (b'a'..=b'f').contains(&sign);
    groups.iter().map(|group| group.len()).eq([8, 4, 4, 4, 12])
        && groups.iter().all(|group| group.bytes().all(hexadecimal))
}

const fn all(faults: Vec<Fault>) -> Faults {
    Faults { language: FOR_PROGRAMS, all: faults }
}

fn value(text: &str) -> Result<Value, Faults> {
    if text.len() > MAX_BYTES {
        let said = format!("expected at most {MAX_BYTES} bytes, found {}", text.len());
        return Err(all(vec![Fault::new("JSON", said)]));
    }
    if text.trim().is_empty() {
        let said = "expected a trial, as docs/recording.md shows one; found nothing";
        return Err(all(vec![Fault::new("JSON", said)]));
    }
    let Strict(value) = serde_json::from_str(text)
        .map_err(|error| all(vec![Fault::new("JSON", error.to_string())]))?;
    Ok(value)
}

fn draft(value: &Value, desk: &Desk<'_>) -> Result<Draft, Faults> {
    let mut reader = Reader { units: desk.site.units, faults: Vec::new() };
    let draft = reader.trial(value, desk);
    if reader.faults.is_empty() { Ok(draft) } else { Err(all(reader.faults)) }
}

/// Reads on after a fault, so that all are told.
struct Reader {
    units: UnitSystem,
    faults: Vec<Fault>,
}

impl Reader {
    fn trial(&mut self, value: &Value, desk: &Desk<'_>) -> Draft {
        let Some(map) = self.object("", value, TRIAL_KEYS) else { return Draft::default() };
        let units = [UnitSystem::Us, UnitSystem::Metric];
        if let Some(units) = self.word(map, "", "units", &units, |units| match units {
            UnitSystem::Us => "us",
            UnitSystem::Metric => "metric",
        }) {
            self.units = units;
        }
        let units = self.units;
        let when = self.text(map, "", "at").and_then(|text| {
            desk.moment(&text, FOR_PROGRAMS)
                .map_err(|said| self.faults.push(Fault::new("at", said)))
                .ok()
        });
        for needed in ["who", "air", "heats"] {
            self.needed(map, "", needed);
        }
        Draft {
            when,
            who: self.text(map, "", "who"),
            checkpoint: self.checkpoint(map),
            welder: self.text(map, "", "welder"),
            kind: self.word(map, "", "kind", &[Kind::Automatic, Kind::Hand], Kind::name),
            polymer: self.word(
                map,
                "",
                "polymer",
                &[Polymer::Pvc, Polymer::Tpo, Polymer::Kee],
                Polymer::name,
            ),
            thickness: self
                .number(map, "", "thickness")
                .map(|number| Thickness::from_units(number, units)),
            lot: self.text(map, "", "lot"),
            roll: self.text(map, "", "roll"),
            air: self.temperature(map, "", "air"),
            sheet: self.temperature(map, "", "sheet_temperature"),
            weights: self.text(map, "", "weights"),
            air_flow: self.text(map, "", "air_flow"),
            speed: self.speed(map, "", "speed"),
            heats: self.heats(map),
            note: self.text(map, "", "note"),
            ran: self.ran(map),
        }
    }

    fn checkpoint(&mut self, map: &Map<String, Value>) -> Option<String> {
        let text = self.text(map, "", "checkpoint")?;
        checkpoint_id(&text, FOR_PROGRAMS)
            .map_err(|said| self.faults.push(Fault::new("checkpoint", said)))
            .ok()
    }

    fn ran(&mut self, map: &Map<String, Value>) -> Option<(Temperature, Option<TravelSpeed>)> {
        let value = map.get("ran").filter(|value| !value.is_null())?;
        let ran = self.object("ran", value, &["heat", "speed"])?;
        self.needed(ran, "ran", "heat");
        let speed = self.speed(ran, "ran", "speed");
        Some((self.temperature(ran, "ran", "heat")?, speed))
    }

    fn heats(&mut self, map: &Map<String, Value>) -> Vec<HeatTrial> {
        let heats = self.list(map, "", "heats", MOST_HEATS);
        heats.iter().enumerate().filter_map(|(index, heat)| self.heat(heat, index + 1)).collect()
    }

    fn heat(&mut self, value: &Value, number: usize) -> Option<HeatTrial> {
        const KEYS: &[&str] = &["heat", "speed", "weights", "air_flow", "strips"];
        let path = format!("heats[{number}]");
        let map = self.object(&path, value, KEYS)?;
        self.needed(map, &path, "heat");
        self.needed(map, &path, "strips");
        let strips = self.list(map, &path, "strips", MOST_STRIPS);
        let strips = strips.iter().enumerate();
        let strips = strips.filter_map(|(index, strip)| {
            self.strip(strip, &format!("{path}.strips[{}]", index + 1))
        });
        let strips = strips.collect();
        let heat = self.temperature(map, &path, "heat");
        Some(HeatTrial {
            speed: self.speed(map, &path, "speed"),
            weights: self.text(map, &path, "weights"),
            air_flow: self.text(map, &path, "air_flow"),
            ..HeatTrial::new(heat?, strips)
        })
    }

    fn strip(&mut self, value: &Value, path: &str) -> Option<Strip> {
        let map = self.object(path, value, &["width", "parted", "signs", "peeled"])?;
        self.needed(map, path, "width");
        self.needed(map, path, "parted");
        let width = self.number(map, path, "width");
        let parted = self.word(map, path, "parted", &Parted::ALL, Parted::name);
        let peeled = self.word(map, path, "peeled", &Peeled::ALL, Peeled::name);
        let mut signs = BTreeSet::new();
        for (index, sign) in self.list(map, path, "signs", Sign::ALL.len()).iter().enumerate() {
            let place = format!("{path}.signs[{}]", index + 1);
            signs.extend(self.one_of(sign, &place, &Sign::ALL, Sign::name));
        }
        let bond_width = BondWidth::from_units(width?, self.units);
        let peeled = peeled.unwrap_or(Peeled::Across);
        Some(Strip { bond_width, parted: parted?, signs, peeled })
    }

    /// The object at `path`; each key that is none of `known` is a fault.
    fn object<'a>(
        &mut self,
        path: &str,
        value: &'a Value,
        known: &[&str],
    ) -> Option<&'a Map<String, Value>> {
        let Value::Object(map) = value else {
            let place = if path.is_empty() { "JSON" } else { path };
            self.wrong(place, "an object", value);
            return None;
        };
        for key in map.keys().filter(|key| !known.contains(&key.as_str())) {
            let said = format!("there is no such key; expected one of: {}", known.join(", "));
            let place = join(path, &crate::render::trial::clean(key));
            self.faults.push(Fault::new(place.chars().take(120).collect::<String>(), said));
        }
        Some(map)
    }

    fn needed(&mut self, map: &Map<String, Value>, path: &str, key: &str) {
        if map.get(key).is_none_or(Value::is_null) {
            self.faults.push(Fault::new(join(path, key), "is missing"));
        }
    }

    fn list<'a>(
        &mut self,
        map: &'a Map<String, Value>,
        path: &str,
        key: &str,
        most: usize,
    ) -> &'a [Value] {
        match map.get(key) {
            None | Some(Value::Null) => &[],
            Some(Value::Array(list)) if list.len() <= most => list,
            Some(Value::Array(list)) => {
                let said = format!("expected at most {most} entries, found {}", list.len());
                self.faults.push(Fault::new(join(path, key), said));
                &[]
            }
            Some(other) => {
                self.wrong(&join(path, key), "a list", other);
                &[]
            }
        }
    }

    fn text(&mut self, map: &Map<String, Value>, path: &str, key: &str) -> Option<String> {
        match map.get(key)? {
            Value::Null => None,
            Value::String(text) => Some(text.clone()),
            other => {
                self.wrong(&join(path, key), "a text", other);
                None
            }
        }
    }

    fn number(&mut self, map: &Map<String, Value>, path: &str, key: &str) -> Option<f64> {
        match map.get(key)? {
            Value::Null => None,
            Value::Number(number) => number.as_f64(),
            other => {
                self.wrong(&join(path, key), "a number", other);
                None
            }
        }
    }

    fn temperature(
        &mut self,
        map: &Map<String, Value>,
        path: &str,
        key: &str,
    ) -> Option<Temperature> {
        let number = self.number(map, path, key)?;
        Some(Temperature::from_units(number, self.units))
    }

    fn speed(&mut self, map: &Map<String, Value>, path: &str, key: &str) -> Option<TravelSpeed> {
        let number = self.number(map, path, key)?;
        Some(TravelSpeed::from_units(number, self.units))
    }

    fn word<T: Copy>(
        &mut self,
        map: &Map<String, Value>,
        path: &str,
        key: &str,
        all: &[T],
        name: fn(T) -> &'static str,
    ) -> Option<T> {
        let value = map.get(key).filter(|value| !value.is_null())?;
        self.one_of(value, &join(path, key), all, name)
    }

    fn one_of<T: Copy>(
        &mut self,
        value: &Value,
        place: &str,
        all: &[T],
        name: fn(T) -> &'static str,
    ) -> Option<T> {
        let meant =
            value.as_str().and_then(|word| all.iter().copied().find(|one| name(*one) == word));
        if meant.is_none() {
            let words: Vec<String> = all.iter().map(|one| format!("`{}`", name(*one))).collect();
            self.wrong(place, &format!("one of {}", words.join(", ")), value);
        }
        meant
    }

    fn wrong(&mut self, place: &str, expected: &str, found: &Value) {
        let found = match found {
            Value::Null => "null".to_owned(),
            Value::Bool(value) => value.to_string(),
            Value::Number(number) => number.to_string(),
            Value::String(text) => quoted(text),
            Value::Array(_) => "a list".to_owned(),
            Value::Object(_) => "an object".to_owned(),
        };
        self.faults.push(Fault::new(place, format!("expected {expected}, found {found}")));
    }
}

fn join(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}
