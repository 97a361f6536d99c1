//! Strips and heats on one line: `1.5 film-tear x2, 2 film-tear+browning, 0.3 cold along`.

use std::collections::BTreeSet;

use super::fault::quoted;
use super::quantity::{self, Typist};
pub use crate::render::trial::notation as write_strips;
use crate::render::trial::strip_words::NO_STRIP;
use crate::testweld::{HeatTrial, MOST_STRIPS, Parted, Peeled, Sign, Strip};
use crate::words::{Language, tell};

/// The strips of one heat. `none` is no strip.
///
/// # Errors
/// In words, with the number of the strip.
pub fn strips(text: &str, typist: Typist) -> Result<Vec<Strip>, String> {
    if text.trim() == NO_STRIP {
        return Ok(Vec::new());
    }
    let mut strips = Vec::new();
    for (index, piece) in text.split(',').enumerate() {
        let (strip, count) = one(piece, typist).map_err(|why| {
            let entry = index + 1;
            tell!(typist.language, "typed-entry", entry, why)
        })?;
        if strips.len() + count > MOST_STRIPS {
            return Err(tell!(typist.language, "typed-most-strips", most = MOST_STRIPS));
        }
        strips.extend(std::iter::repeat_n(strip, count));
    }
    Ok(strips)
}

/// A heat, with its own speed where that was not the trial's: `900`, `900 at 10`.
///
/// # Errors
/// In words.
pub fn heat(text: &str, typist: Typist) -> Result<HeatTrial, String> {
    let (heat, speed) = match text.split_once(" at ") {
        Some((heat, speed)) => (heat, Some(quantity::speed(speed, typist)?)),
        None => (text, None),
    };
    let heat = quantity::temperature(heat, typist)?;
    Ok(HeatTrial { speed, ..HeatTrial::new(heat, Vec::new()) })
}

/// One strip, and how many like it.
fn one(text: &str, typist: Typist) -> Result<(Strip, usize), String> {
    let language = typist.language;
    // A blank beside a plus is as good as none.
    let text = text.split('+').map(str::trim).collect::<Vec<_>>().join("+");
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_width = |word: &&str| {
        matches!(*word, "in" | "mm" | "\"" | "inch" | "inches")
            || !word.starts_with(char::is_alphabetic)
    };
    let width: Vec<&str> = words.iter().copied().take_while(is_width).collect();
    let mut rest = words.iter().copied().skip(width.len());
    if width.is_empty() {
        let (form, found) = (tell!(language, "typed-form"), quoted(&text));
        return Err(tell!(language, "typed-width-first", form, found));
    }
    let bond_width = quantity::width(&width.join(" "), typist)?;
    let how = rest
        .next()
        .ok_or_else(|| tell!(language, "typed-how-missing", listed = listed(&PARTED)))?;
    let mut parts = how.split('+');
    let parted = parts.next().unwrap_or_default();
    let parted = Parted::ALL[word(parted, Asked::How, language)?];
    let signs: Result<BTreeSet<Sign>, String> =
        parts.map(|sign| Ok(Sign::ALL[word(sign, Asked::Sign, language)?])).collect();
    let (mut peeled, mut count) = (Peeled::Across, 1);
    for word_behind in rest {
        match word_behind.strip_prefix(['x', 'X']).map(str::parse::<usize>) {
            Some(Ok(times)) if (1..=MOST_STRIPS).contains(&times) => count = times,
            Some(_) => {
                let (most, found) = (MOST_STRIPS, quoted(word_behind));
                return Err(tell!(language, "typed-times", most, found));
            }
            None => peeled = Peeled::ALL[word(word_behind, Asked::Way, language)?],
        }
    }
    Ok((Strip { bond_width, parted, signs: signs?, peeled }, count))
}

const PARTED: [&str; 3] = [Parted::ALL[0].name(), Parted::ALL[1].name(), Parted::ALL[2].name()];
const PEELED: [&str; 2] = [Peeled::ALL[0].name(), Peeled::ALL[1].name()];
const SIGNS: [&str; 6] = [
    Sign::ALL[0].name(),
    Sign::ALL[1].name(),
    Sign::ALL[2].name(),
    Sign::ALL[3].name(),
    Sign::ALL[4].name(),
    Sign::ALL[5].name(),
];

/// What a word tells.
#[derive(Clone, Copy)]
enum Asked {
    How,
    Sign,
    Way,
}

/// Which word is meant: the word itself, or the beginning of one of them alone.
fn word(text: &str, asked: Asked, language: Language) -> Result<usize, String> {
    let known: &[&str] = match asked {
        Asked::How => &PARTED,
        Asked::Sign => &SIGNS,
        Asked::Way => &PEELED,
    };
    let lower = text.to_lowercase();
    let whole = known.iter().position(|word| *word == lower);
    let mut begun = known.iter().enumerate().filter(|(_, word)| word.starts_with(&lower));
    let only = match (begun.next(), begun.next()) {
        (Some((index, _)), None) if !lower.is_empty() => Some(index),
        _ => None,
    };
    whole.or(only).ok_or_else(|| {
        let (listed, found) = (listed(known), quoted(text));
        match asked {
            Asked::How => tell!(language, "typed-how", listed, found),
            Asked::Sign => tell!(language, "typed-sign", listed, found),
            Asked::Way => tell!(language, "typed-way", listed, found),
        }
    })
}

fn listed(known: &[&str]) -> String {
    known.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::UnitSystem;

    const US: Typist = Typist { units: UnitSystem::Us, language: Language::En };

    #[test]
    fn words_may_be_shortened_as_long_as_they_stand_alone() {
        let full = strips("1.5 film-tear, 0.3 cold, 2 film-tear+browning along", US);
        let short = strips("1 1/2 in f, 0.3 C, 2in f + b al", US);
        assert_eq!(full, short);
        assert_eq!(strips("1.5 f x3", US).unwrap().len(), 3);
        assert_eq!(strips("none", US), Ok(Vec::new()));
    }

    #[test]
    fn what_is_wrong_is_told_with_its_entry() {
        for (text, expected) in [
            ("", "entry 1: expected the width first"),
            ("cold", "entry 1: expected the width first"),
            ("1.5 f,", "entry 2: expected the width first"),
            ("1.5 f, 2", "entry 2: expected how it parted"),
            ("1.5 torn", "expected how it parted: `film-tear`, `cold`, `mixed`; found `torn`"),
            ("1.5 f+brwn", "expected a sign: `browning`"),
            ("1.5 f+", "expected a sign"),
            ("1.5 f a", "expected which way it was peeled: `across`, `along`; found `a`"),
            ("1.5 f x0", "expected `x1` to `x100`"),
            ("1.5 f x60, 1 f x60", "at most 100 strips"),
            ("1.5 f x99999999999999999999", "expected `x1`"),
            ("1,5 f", "entry 1: expected how it parted"),
        ] {
            let said = strips(text, US).unwrap_err();
            assert!(said.contains(expected), "{text}: {said}");
        }
    }
}
