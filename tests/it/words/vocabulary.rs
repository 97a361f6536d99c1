//! The words that a language's files know: whatever else an output says in it has leaked through.

use std::collections::BTreeSet;

use fairseam::words::Language;

use super::files::messages;

/// Units and their signs, which are those on the machine, the thermometer and the tape.
const UNITS: &str =
    "°F °C ft min ft/min m/min mph m/s in mm h d W mil pvc tpo kee EDT EST CDT CST x";

/// The words of `text` that stand neither in the language's files nor in `given`: names of a site,
/// its machines and breaks, the credit of a weather service.
pub(crate) fn foreign(language: Language, text: &str, given: &[&str]) -> BTreeSet<String> {
    let mut known: BTreeSet<String> = words(UNITS).collect();
    known.extend(given.iter().flat_map(|text| words(text)));
    for message in messages(language.tag()).values() {
        known.extend(words(&message.text));
    }
    words(text).filter(|word| !known.contains(word)).collect()
}

/// In lower case, whatever stands between them.
fn words(text: &str) -> impl Iterator<Item = String> {
    let words = text.split(|sign: char| !sign.is_alphabetic());
    words.filter(|word| !word.is_empty()).map(str::to_lowercase)
}

/// An English page has its words from the English files and many that the Spanish files lack, so that
/// the question above is worth asking.
#[test]
fn a_language_that_leaks_is_found() {
    let leak = "Lluvia from 15:00: sellado by 14:15";
    let found: Vec<String> = foreign(Language::Es, leak, &[]).into_iter().collect();
    assert_eq!(found, ["by", "from"]);
    assert_eq!(foreign(Language::Es, "Roof B: lluvia, 0.07 in", &["roof b"]), BTreeSet::new());
}
