//! From what stands in the file to the value of a key, or a sentence on why not.

use std::ops::Range;

use chrono::NaiveTime;
use chrono_tz::Tz;
use toml::Spanned;
use toml::de::{DeArray, DeValue};
use url::Url;

use super::found::describe;
use super::keys::{Allowed, Form, Key, Unit};
use super::nearest::{nearest, nearest_zone};
use super::value::Value;
use crate::units::UnitSystem;

/// Longest list that is looked at entry by entry.
const LONGEST_LIST: usize = 50;

/// Why a value cannot stand: where, and the sentence behind the key.
pub(super) type Refusals = Vec<(Range<usize>, String)>;

/// The value of `key`. `units` is `None` where the file's own `units` cannot be read: then nothing
/// is said about ranges that depend on them.
pub(super) fn parse_value(
    key: &Key,
    raw: &Spanned<DeValue<'_>>,
    units: Option<UnitSystem>,
) -> Result<Value, Refusals> {
    let at_value = |sentence| vec![(raw.span(), sentence)];
    let found = raw.get_ref();
    let shown = units.unwrap_or(UnitSystem::Us);
    let refusal = || at_value(refuse(key, found, shown, ""));
    match key.form {
        Form::Choices(words) => parse_words(key, words, raw),
        Form::Minutes { low, high, most } => parse_minutes(key, (low, high, most), raw),
        Form::Number(unit, allowed) => {
            parse_number(key, unit, allowed, found, units).map(Value::Number).map_err(at_value)
        }
        Form::Whole(_, low, high) => whole(found, low, high).map(Value::Whole).ok_or_else(refusal),
        Form::Flag => found.as_bool().map(Value::Flag).ok_or_else(refusal),
        Form::Time => time(found).map(|time| Value::Time(Some(time))).ok_or_else(refusal),
        Form::TimeOrNone if found.as_str() == Some("") => Ok(Value::Time(None)),
        Form::TimeOrNone => time(found).map(|time| Value::Time(Some(time))).ok_or_else(refusal),
        Form::Zone => parse_zone(key, found).map(Value::Zone).map_err(at_value),
        Form::Choice(words) => word(words, found).map(Value::Word).ok_or_else(|| {
            let hint = nearest_hint(found, words);
            at_value(refuse(key, found, shown, &hint))
        }),
        Form::Text | Form::Id | Form::Contact | Form::Path | Form::Secret | Form::Address => {
            text(key.form, found).map(Value::Text).ok_or_else(refusal)
        }
        // Lists of tables are read by whoever knows the keys of their entries.
        Form::Tables { .. } => Err(refusal()),
    }
}

/// What was found, what is allowed, and a hint in brackets.
fn refuse(key: &Key, found: &DeValue<'_>, units: UnitSystem, hint: &str) -> String {
    let found = match found {
        DeValue::String(text) if text.is_empty() => "empty".to_owned(),
        _ if key.form.is_secret() => "not sound (it is not shown here)".to_owned(),
        // What stands before the sign may be a password.
        DeValue::String(text) if key.form == Form::Address && text.contains('@') => {
            "an address with a user (it is not shown here)".to_owned()
        }
        found => describe(found),
    };
    format!("is {found}; expected {}{hint}", key.allowed(units))
}

fn parse_number(
    key: &Key,
    unit: Unit,
    allowed: Allowed,
    found: &DeValue<'_>,
    units: Option<UnitSystem>,
) -> Result<f64, String> {
    let shown = units.unwrap_or(UnitSystem::Us);
    let Some(number) = number(found).filter(|number| number.is_finite()) else {
        return Err(refuse(key, found, shown, ""));
    };
    let range_is_known = units.is_some() || !unit.differs();
    if !range_is_known || allowed.holds(number, shown) {
        return Ok(number);
    }
    let other = match shown {
        UnitSystem::Us => UnitSystem::Metric,
        UnitSystem::Metric => UnitSystem::Us,
    };
    let hint = if unit.differs() && allowed.holds(number, other) {
        let (here, there) = (unit.sign(shown), unit.sign(other));
        format!(" (is it in {there}? the file's `units` ask for {here})")
    } else {
        String::new()
    };
    Err(refuse(key, found, shown, &hint))
}

/// A number as it stands, however large; `None` for anything else.
fn number(found: &DeValue<'_>) -> Option<f64> {
    match found {
        DeValue::Integer(digits) => i128::from_str_radix(digits.as_str(), digits.radix())
            .map(|whole| whole as f64)
            .ok()
            .or_else(|| digits.as_str().parse().ok()),
        DeValue::Float(digits) => digits.as_str().parse().ok(),
        _ => None,
    }
}

/// A whole number from `low` to `high`; `15.0` is one too.
fn whole(found: &DeValue<'_>, low: u32, high: u32) -> Option<u32> {
    let number = number(found)?;
    let is_allowed = number.fract() == 0.0 && (f64::from(low)..=f64::from(high)).contains(&number);
    // In range and without a fraction, so the conversion is exact.
    is_allowed.then_some(number as u32)
}

fn word(words: &[&'static str], found: &DeValue<'_>) -> Option<&'static str> {
    let text = found.as_str()?;
    words.iter().copied().find(|word| *word == text)
}

fn nearest_hint(found: &DeValue<'_>, words: &'static [&'static str]) -> String {
    found
        .as_str()
        .filter(|text| !text.is_empty())
        .and_then(|text| nearest(text, words.iter().copied()))
        .map_or(String::new(), |near| format!(" (the nearest is \"{near}\")"))
}

/// `"07:00"` or `"7:00"`; TOML's own local time, without quotes, is understood too.
fn time(found: &DeValue<'_>) -> Option<NaiveTime> {
    match found {
        DeValue::String(text) => {
            let (hour, minute) = text.split_once(':')?;
            let is_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
            let is_sound = (1..=2).contains(&hour.len()) && minute.len() == 2;
            if !is_sound || !is_digits(hour) || !is_digits(minute) {
                return None;
            }
            NaiveTime::from_hms_opt(hour.parse().ok()?, minute.parse().ok()?, 0)
        }
        DeValue::Datetime(moment) if moment.date.is_none() && moment.offset.is_none() => {
            let time = moment.time?;
            let is_whole_minute =
                time.second.unwrap_or(0) == 0 && time.nanosecond.unwrap_or(0) == 0;
            is_whole_minute
                .then(|| NaiveTime::from_hms_opt(time.hour.into(), time.minute.into(), 0))?
        }
        _ => None,
    }
}

/// These two look like a zone with summer time and are none.
const WITHOUT_SUMMER_TIME: &[(&str, &str)] =
    &[("EST", "America/New_York"), ("MST", "America/Denver")];

fn parse_zone(key: &Key, found: &DeValue<'_>) -> Result<Tz, String> {
    let text = found.as_str().unwrap_or_default();
    let refuse = |hint: &str| refuse(key, found, UnitSystem::Us, hint);
    if let Some((_, meant)) = WITHOUT_SUMMER_TIME.iter().find(|(short, _)| *short == text) {
        return Err(refuse(&format!(" (it has no summer time; is \"{meant}\" meant?)")));
    }
    text.parse().map_err(|_| match nearest_zone(text) {
        Some(near) if !text.trim().is_empty() => refuse(&format!(" (the nearest is \"{near}\")")),
        _ => refuse(""),
    })
}

fn text(form: Form, found: &DeValue<'_>) -> Option<String> {
    let text = found.as_str()?;
    let is_short = text.chars().count() <= Form::LONGEST_TEXT && !text.trim().is_empty();
    let is_sound = is_short
        && match form {
            Form::Id => is_id(text),
            Form::Contact => text.bytes().all(|byte| (b' '..=b'~').contains(&byte)),
            Form::Path => !text.chars().any(char::is_control),
            Form::Secret => text.bytes().all(|byte| byte.is_ascii_graphic()),
            Form::Address => is_address(text),
            _ => true,
        };
    is_sound.then(|| text.to_owned())
}

fn is_id(text: &str) -> bool {
    let sound = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-';
    text.len() <= Form::LONGEST_ID && text.bytes().all(sound)
}

/// An http or https address that paths can be put behind and that carries no secret.
fn is_address(text: &str) -> bool {
    Url::parse(text).is_ok_and(|url| {
        matches!(url.scheme(), "http" | "https")
            && url.has_host()
            && url.username().is_empty()
            && url.password().is_none()
            && url.query().is_none()
            && url.fragment().is_none()
            && !text.contains(|character: char| character.is_control() || character == ' ')
    })
}

/// The entries of a list, or the refusal of what is no list or too long a one.
fn entries<'a, 'i>(
    key: &Key,
    raw: &'a Spanned<DeValue<'i>>,
    most: usize,
) -> Result<&'a DeArray<'i>, Refusals> {
    let refuse = |hint: &str| vec![(raw.span(), refuse(key, raw.get_ref(), UnitSystem::Us, hint))];
    match raw.get_ref() {
        DeValue::Array(list) if list.len() <= most => Ok(list),
        DeValue::Array(list) => Err(refuse(&format!(" (it has {} entries)", list.len()))),
        _ => Err(refuse("")),
    }
}

fn parse_words(
    key: &Key,
    words: &'static [&'static str],
    raw: &Spanned<DeValue<'_>>,
) -> Result<Value, Refusals> {
    let list = entries(key, raw, LONGEST_LIST)?;
    if list.is_empty() {
        return Err(vec![(raw.span(), refuse(key, raw.get_ref(), UnitSystem::Us, ""))]);
    }
    let mut read = Vec::new();
    let mut refusals = Refusals::new();
    for entry in list.iter() {
        let found = describe(entry.get_ref());
        match word(words, entry.get_ref()) {
            Some(word) if read.contains(&word) => {
                let sentence = format!("names {found} twice; expected each word at most once");
                refusals.push((entry.span(), sentence));
            }
            Some(word) => read.push(word),
            None => {
                let hint = nearest_hint(entry.get_ref(), words);
                let allowed = key.allowed(UnitSystem::Us);
                refusals.push((entry.span(), format!("has {found}; expected {allowed}{hint}")));
            }
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    Ok(Value::Words(words.iter().copied().filter(|word| read.contains(word)).collect()))
}

/// Whole numbers, longest first, each once.
fn parse_minutes(
    key: &Key,
    (low, high, most): (u32, u32, usize),
    raw: &Spanned<DeValue<'_>>,
) -> Result<Value, Refusals> {
    let list = entries(key, raw, LONGEST_LIST)?;
    let mut read = Vec::new();
    let mut refusals = Refusals::new();
    for entry in list.iter() {
        match whole(entry.get_ref(), low, high) {
            Some(minutes) => read.push(minutes),
            None => {
                let found = describe(entry.get_ref());
                let allowed = key.allowed(UnitSystem::Us);
                refusals.push((entry.span(), format!("has {found}; expected {allowed}")));
            }
        }
    }
    read.sort_unstable_by(|one, other| other.cmp(one));
    read.dedup();
    if read.len() > most && refusals.is_empty() {
        let hint = format!(" (it has {} different ones)", read.len());
        refusals.push((raw.span(), refuse(key, raw.get_ref(), UnitSystem::Us, &hint)));
    }
    if refusals.is_empty() { Ok(Value::Wholes(read)) } else { Err(refusals) }
}
