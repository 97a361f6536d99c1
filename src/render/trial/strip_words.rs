//! A strip as it is written and read: `1.5 in film-tear + browning, along the seam`.

use super::amounts;
use crate::render::figures;
use crate::testweld::{Parted, Peeled, Strip};
use crate::units::UnitSystem;

/// A strip in words: `1.5 in film tear, browning`.
pub fn strip(strip: &Strip, units: UnitSystem) -> String {
    let mut words = format!("{} {}", amounts::width(strip.bond_width, units), parted(strip.parted));
    for sign in &strip.signs {
        words.push_str(&format!(", {}", sign.name().replace('-', " ")));
    }
    if strip.peeled == Peeled::Along {
        words.push_str(", peeled along the seam");
    }
    words
}

/// Strips in words, equal ones together: `3 x 1.5 in film tear; 0.2 in cold`.
pub fn strips(strips: &[Strip], units: UnitSystem) -> String {
    let mut told: Vec<(String, usize)> = Vec::new();
    for one in strips {
        let words = strip(one, units);
        match told.iter_mut().find(|(known, _)| *known == words) {
            Some((_, count)) => *count += 1,
            None => told.push((words, 1)),
        }
    }
    if told.is_empty() {
        return "no strip".to_owned();
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
pub const fn parted(way: Parted) -> &'static str {
    match way {
        Parted::FilmTear => "film tear",
        Parted::Cold => "cold",
        Parted::Mixed => "mixed",
    }
}
