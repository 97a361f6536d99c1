//! The words of a record, read back; each says what was expected where it finds another.

use std::collections::BTreeSet;

use crate::site::{Kind, Polymer};
use crate::testweld::{Parted, Peeled, Sign};

/// The one of `all` whose name is `word`.
fn one_of<T: Copy>(
    what: &str,
    all: &[T],
    name: impl Fn(T) -> &'static str,
    word: &str,
) -> Result<T, String> {
    all.iter().copied().find(|&one| name(one) == word).ok_or_else(|| {
        let names: Vec<_> = all.iter().map(|&one| format!("`{}`", name(one))).collect();
        let short: String = word.chars().take(40).collect();
        format!("`{what}` is {short:?}, expected {}", names.join(" or "))
    })
}

pub(super) fn kind(word: &str) -> Result<Kind, String> {
    one_of("welder_kind", &[Kind::Automatic, Kind::Hand], Kind::name, word)
}

pub(super) fn polymer(word: &str) -> Result<Polymer, String> {
    one_of("polymer", &[Polymer::Pvc, Polymer::Tpo, Polymer::Kee], Polymer::name, word)
}

pub(super) fn parted(word: &str) -> Result<Parted, String> {
    one_of("parted", &Parted::ALL, Parted::name, word)
}

pub(super) fn peeled(word: &str) -> Result<Peeled, String> {
    one_of("peeled", &Peeled::ALL, Peeled::name, word)
}

pub(super) fn signs<'a>(words: impl Iterator<Item = &'a str>) -> Result<BTreeSet<Sign>, String> {
    words.map(|word| one_of("signs", &Sign::ALL, Sign::name, word)).collect()
}
