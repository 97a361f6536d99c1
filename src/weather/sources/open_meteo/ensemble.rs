//! The members of an ensemble: the same forecast, run many times from slightly different beginnings.
//!
//! The control stands under the variable's own name, the others under `temperature_2m_member01` and
//! so on. Where a reply holds several models, the model's name comes last:
//! `temperature_2m_member01_ncep_gefs025`.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::parse::{checked, hours};
use super::wire::{self, Hourly, Reply};
use crate::units::Temperature;
use crate::weather::sources::ParseError;
use crate::weather::sources::measure::{Channel, Kind};

/// The air of one member: its hours with a value, ascending.
pub type Member = Vec<(DateTime<Utc>, Temperature)>;

/// The largest ensemble of any service has about fifty members.
const MOST_MEMBERS: usize = 200;
const EXPECTED: &str = "an ensemble of Open-Meteo";

/// Reads an ensemble reply: the control first, if it has one, then the members by their numbers.
///
/// Of several models, the first with a member is taken. A member that is absent or without any value
/// is left out, and so is an hour of a member without one: members can differ in how far they reach.
///
/// # Errors
/// Anything that is not such a reply, as [`super::parse_forecast`], and a reply without members.
pub fn parse_ensemble(body: &[u8], _: DateTime<Utc>) -> Result<Vec<Member>, ParseError> {
    let reply = checked(wire::reply(body)?)?;
    let (hourly, times) = hours(&reply)?;
    let members = members(&reply, hourly, &times)?;
    if members.is_empty() {
        return Err(ParseError::Missing {
            expected: "a member of an ensemble (`temperature_2m_member01`)".to_owned(),
            place: "the reply's `hourly`",
        });
    }
    Ok(members)
}

/// The members of a reply; none where it is no ensemble's.
pub(super) fn members(
    reply: &Reply,
    hourly: &Hourly,
    times: &[DateTime<Utc>],
) -> Result<Vec<Member>, ParseError> {
    let has_values = |(_, values): &&(String, Vec<Option<f64>>)| values.iter().any(Option::is_some);
    let mut numbered = hourly.series.iter().filter(has_values).filter_map(|(key, _)| number(key));
    let Some((_, model)) = numbered.next() else { return Ok(Vec::new()) };
    // `None`, the control, comes before every number. Of a key that stands twice the first counts.
    let mut found: BTreeMap<Option<u32>, (&str, &[Option<f64>])> = BTreeMap::new();
    for (key, values) in hourly.series.iter().filter(has_values) {
        let place = match number(key) {
            Some((count, of)) if of == model => Some(count),
            None if wire::TEMPERATURE.suffix_in(key) == Some(model) => None,
            _ => continue,
        };
        found.entry(place).or_insert((key, values));
    }
    if found.len() > MOST_MEMBERS {
        let detail = format!("it has {} members; expected at most {MOST_MEMBERS}", found.len());
        return Err(ParseError::Malformed { expected: EXPECTED, detail });
    }
    found.into_values().map(|(key, values)| member(reply, key, values, times)).collect()
}

fn member(
    reply: &Reply,
    key: &str,
    values: &[Option<f64>],
    times: &[DateTime<Utc>],
) -> Result<Member, ParseError> {
    let channel = Channel::new(Kind::Air, key, reply.unit(key).unwrap_or("none given"))?;
    let mut air = Vec::with_capacity(values.len());
    for (&time, &value) in times.iter().zip(values) {
        if let Some(temperature) = channel.temperature(value, time)? {
            air.push((time, temperature));
        }
    }
    Ok(air)
}

/// Number and model (with its `_`, or empty) of a member's key; `None` for any other key.
fn number(key: &str) -> Option<(u32, &str)> {
    let rest = wire::TEMPERATURE.suffix_in(key)?.strip_prefix("_member")?;
    let digits = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let (number, model) = rest.split_at(digits);
    // An earlier run is not the forecast.
    let is_model =
        model.is_empty() || (model.starts_with('_') && !model.starts_with("_previous_day"));
    Some((number.parse().ok()?, model)).filter(|_| is_model)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_members_key_is_told_from_its_neighbors() {
        assert_eq!(number("temperature_2m_member07"), Some((7, "")));
        assert_eq!(number("temperature_2m_member30_ncep_gefs025"), Some((30, "_ncep_gefs025")));
        for key in [
            "temperature_2m",
            "temperature_2m_ncep_gefs025",
            "temperature_2m_member",
            "temperature_2m_member_mean",
            "temperature_2m_member01mean",
            "temperature_2m_member01_previous_day1",
            "temperature_2m_member99999999999",
            "dew_point_2m_member01",
        ] {
            assert_eq!(number(key), None, "{key}");
        }
    }
}
