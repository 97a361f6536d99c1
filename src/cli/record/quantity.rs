//! Amounts as an operator writes them: `925`, `925 °F`, `9 ft/min`, `1 1/2 in`, `38 mm`.
//!
//! Without a unit a number means the site's. A unit that is written down is taken at its word.

use super::fault::quoted;
use crate::units::{BondWidth, Temperature, Thickness, TravelSpeed, UnitSystem};
use crate::words::{Language, tell};

/// Whoever types: the units of a bare number, and the language in which a mistake is told.
#[derive(Debug, Clone, Copy)]
pub struct Typist {
    /// The site's.
    pub units: UnitSystem,
    /// The crew's.
    pub language: Language,
}

impl Typist {
    fn wrong(self, expected: &str, text: &str) -> String {
        tell!(self.language, "typed-found", expected, found = quoted(text))
    }
}

/// A temperature or a heat.
///
/// # Errors
/// In words, when there is no number or another unit than °F and °C.
pub fn temperature(text: &str, typist: Typist) -> Result<Temperature, String> {
    let units = typist.units;
    let such = match units {
        UnitSystem::Us => "68",
        UnitSystem::Metric => "20",
    };
    let expected = tell!(typist.language, "typed-temperature", unit = units.temperature(), such);
    let (number, unit) = number_and_unit(text, &expected, typist)?;
    match unit.trim_start_matches(['°', ' ']) {
        "" if unit.is_empty() => Ok(Temperature::from_units(number, units)),
        "F" | "f" | "degF" => Ok(Temperature::from_fahrenheit(number)),
        "C" | "c" | "degC" => Ok(Temperature::from_celsius(number)),
        _ => Err(typist.wrong(&expected, text)),
    }
}

/// A welder's speed.
///
/// # Errors
/// In words, when there is no number or another unit than ft/min and m/min.
pub fn speed(text: &str, typist: Typist) -> Result<TravelSpeed, String> {
    let units = typist.units;
    let such = match units {
        UnitSystem::Us => "9",
        UnitSystem::Metric => "2.7",
    };
    let expected = tell!(typist.language, "typed-speed", unit = units.travel_speed(), such);
    let (number, unit) = number_and_unit(text, &expected, typist)?;
    match unit {
        "" => Ok(TravelSpeed::from_units(number, units)),
        "ft/min" | "fpm" => Ok(TravelSpeed::from_feet_per_minute(number)),
        "m/min" => Ok(TravelSpeed::from_meters_per_minute(number)),
        _ => Err(typist.wrong(&expected, text)),
    }
}

/// A sheet's thickness.
///
/// # Errors
/// In words, when there is no number or another unit than mil and mm.
pub fn thickness(text: &str, typist: Typist) -> Result<Thickness, String> {
    let units = typist.units;
    let expected = tell!(typist.language, "typed-thickness", unit = units.thickness());
    let (number, unit) = number_and_unit(text, &expected, typist)?;
    match unit {
        "" => Ok(Thickness::from_units(number, units)),
        "mil" | "mils" => Ok(Thickness::from_mils(number)),
        "mm" => Ok(Thickness::from_millimeters(number)),
        _ => Err(typist.wrong(&expected, text)),
    }
}

/// How wide a weld holds; fractions as on a tape: `1 1/2`, `1-1/2`, `1½`, `3/4 in`.
///
/// # Errors
/// In words, when there is no number or another unit than in and mm.
pub fn width(text: &str, typist: Typist) -> Result<BondWidth, String> {
    let units = typist.units;
    let wrong = || {
        let expected = match units {
            UnitSystem::Us => tell!(typist.language, "typed-width-us"),
            UnitSystem::Metric => tell!(typist.language, "typed-width-metric"),
        };
        typist.wrong(&expected, text)
    };
    let text = text.trim();
    let end = text.find(|sign: char| sign.is_alphabetic() || sign == '"').unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let number = on_a_tape(number.trim()).ok_or_else(wrong)?;
    match unit.trim() {
        "" => Ok(BondWidth::from_units(number, units)),
        "in" | "inch" | "inches" | "\"" => Ok(BondWidth::from_inches(number)),
        "mm" => Ok(BondWidth::from_millimeters(number)),
        _ => Err(wrong()),
    }
}

/// A number and what stands behind it.
fn number_and_unit<'a>(
    text: &'a str,
    expected: &str,
    typist: Typist,
) -> Result<(f64, &'a str), String> {
    let text = text.trim();
    let end = text
        .find(|sign: char| !(sign.is_ascii_digit() || matches!(sign, '.' | '-' | '+')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    if unit.starts_with(',') {
        return Err(tell!(typist.language, "typed-comma", expected));
    }
    let number = plain(number).ok_or_else(|| typist.wrong(expected, text))?;
    Ok((number, unit.trim()))
}

/// Digits with at most one sign and one point; no exponent, no `inf`, no `nan`.
fn plain(text: &str) -> Option<f64> {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    let sound = digits.chars().all(|sign| sign.is_ascii_digit() || sign == '.')
        && digits.chars().any(|sign| sign.is_ascii_digit());
    if !sound {
        return None;
    }
    text.parse().ok().filter(|number: &f64| number.is_finite())
}

/// The signs of fractions that keyboards and telephones offer.
const FRACTION_SIGNS: [(char, f64); 9] = [
    ('¼', 0.25),
    ('½', 0.5),
    ('¾', 0.75),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
];

/// `1.5`, `1 1/2`, `1-1/2`, `3/4`, `1½`.
fn on_a_tape(text: &str) -> Option<f64> {
    let sign = text.chars().next_back();
    if let Some((sign, part)) = FRACTION_SIGNS.iter().find(|(known, _)| sign == Some(*known)) {
        let whole = text.trim_end_matches(*sign).trim_end();
        return Some(if whole.is_empty() { *part } else { whole_number(whole)? + part });
    }
    let Some((before, below)) = text.split_once('/') else { return plain(text) };
    let below = whole_number(below.trim()).filter(|below| *below > 0.0)?;
    let before = before.trim();
    let (whole, above) = match before.rsplit_once([' ', '-']) {
        Some((whole, above)) => (whole_number(whole.trim())?, whole_number(above)?),
        None => (0.0, whole_number(before)?),
    };
    (above < below).then_some(whole + above / below)
}

/// Digits and nothing else.
fn whole_number(text: &str) -> Option<f64> {
    let digits =
        !text.is_empty() && text.len() <= 6 && text.chars().all(|sign| sign.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: Typist = Typist { units: UnitSystem::Us, language: Language::En };
    const METRIC: Typist = Typist { units: UnitSystem::Metric, ..US };

    #[test]
    fn widths_are_read_as_on_a_tape() {
        for (text, inches) in [
            ("1.5", 1.5),
            ("1 1/2", 1.5),
            ("1-1/2", 1.5),
            ("1½", 1.5),
            ("1 ½ in", 1.5),
            ("3/4\"", 0.75),
            ("½", 0.5),
            ("38.1mm", 1.5),
            ("38.1 mm", 1.5),
            ("0", 0.0),
            (".25", 0.25),
        ] {
            let read = width(text, US).unwrap().inches();
            assert!((read - inches).abs() < 1e-12, "{text}: {read}");
        }
        for wrong in
            ["", "in", "1/0", "3/2", "1 1/2/3", "nan", "1e3", "1,5", "1 ft", "--1", "1/2 1"]
        {
            assert!(width(wrong, US).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_unit_that_is_written_down_is_taken_at_its_word() {
        let close = |one: f64, other: f64| assert!((one - other).abs() < 1e-9, "{one} {other}");
        close(temperature("925", US).unwrap().fahrenheit(), 925.0);
        close(temperature("925 °F", METRIC).unwrap().fahrenheit(), 925.0);
        close(temperature("-4.5C", US).unwrap().celsius(), -4.5);
        close(speed("2.4 m/min", US).unwrap().meters_per_minute(), 2.4);
        close(speed("8 fpm", METRIC).unwrap().feet_per_minute(), 8.0);
        close(thickness("1.5 mm", US).unwrap().millimeters(), 1.5);
        for wrong in ["", "°", "°F", "hot", "NaN", "inf", "1e9", "68 K", "6 8", "1,010", "68°"] {
            assert!(temperature(wrong, US).is_err(), "{wrong}");
        }
        assert!(speed("9 mph", US).is_err());
    }
}
