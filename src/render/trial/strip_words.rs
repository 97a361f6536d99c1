//! A strip as it is written and read: `1.5 in film-tear + browning, along the seam`.

use super::amounts;
use crate::render::figures;
use crate::testweld::{Parted, Peeled, Sign, Strip};
use crate::units::UnitSystem;
use crate::words::{Language, tell};

/// A strip in words: `1.5 in film tear, browning`.
pub fn strip(language: Language, strip: &Strip, units: UnitSystem) -> String {
    let width = amounts::width(strip.bond_width, units);
    let mut words = vec![format!("{width} {}", parted(language, strip.parted))];
    words.extend(strip.signs.iter().map(|one| sign(language, *one)));
    if strip.peeled == Peeled::Along {
        words.push(tell!(language, "strip-along"));
    }
    words.join(", ")
}

/// Strips in words, equal ones together: `3 x 1.5 in film tear; 0.2 in cold`.
pub fn strips(language: Language, strips: &[Strip], units: UnitSystem) -> String {
    let mut told: Vec<(String, usize)> = Vec::new();
    for one in strips {
        let words = strip(language, one, units);
        match told.iter_mut().find(|(known, _)| *known == words) {
            Some((_, count)) => *count += 1,
            None => told.push((words, 1)),
        }
    }
    if told.is_empty() {
        return tell!(language, "strip-none");
    }
    let told = told.into_iter().map(|(words, count)| match count {
        1 => words,
        count => format!("{count} x {words}"),
    });
    told.collect::<Vec<_>>().join("; ")
}

/// What stands for a heat that was welded and of which no strip was cut.
pub const NO_STRIP: &str = "none";

/// Strips in the notation that `fairseam record --strips` and the office's form read:
/// `1.5 film-tear, 0.3 cold along`.
pub fn notation(strips: &[Strip], units: UnitSystem) -> String {
    if strips.is_empty() {
        return NO_STRIP.to_owned();
    }
    let written = strips.iter().map(|strip| {
        let width = figures::round_to(strip.bond_width.in_units(units), 1e6);
        let signs: String = strip.signs.iter().map(|sign| format!("+{}", sign.name())).collect();
        let along = if strip.peeled == Peeled::Along { " along" } else { "" };
        format!("{width} {}{signs}{along}", strip.parted.name())
    });
    written.collect::<Vec<_>>().join(", ")
}

/// How it parted, in words.
pub fn parted(language: Language, way: Parted) -> String {
    tell!(language, "parted", way = way.name())
}

/// A sign, in words: `heavy bleed out`.
pub fn sign(language: Language, sign: Sign) -> String {
    tell!(language, "sign", sign = sign.name())
}
