//! The page's colors against the contrast that WCAG 2.2 asks for, worked out by its own formula.

use std::collections::BTreeMap;

use fairseam::render::html::day_page;

use super::invented::Invented;
use super::well_formed::elements;

use crate::proof::{Allowed, Proof};

/// Relative luminance. WCAG 2.2, definition of "relative luminance".
pub(crate) fn luminance(color: [u8; 3]) -> f64 {
    let linear = color.map(|byte| {
        let share = f64::from(byte) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}

/// Contrast ratio, 1 to 21. WCAG 2.2, definition of "contrast ratio".
pub(crate) fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// The colors that the page's own style sheet names.
fn palette() -> BTreeMap<String, [u8; 3]> {
    let page = day_page(&Invented::april().plan());
    let style = elements(&page).into_iter().find(|element| element.name == "style").unwrap();
    let line = |line: &str| {
        let (name, color) = line.trim().strip_prefix("--")?.strip_suffix(';')?.split_once(": #")?;
        let part = |at: usize| u8::from_str_radix(&color[at..at + 2], 16).unwrap();
        Some((name.to_owned(), [part(0), part(2), part(4)]))
    };
    style.text.lines().filter_map(line).collect()
}

/// (what lies on top, the ground, the least ratio, the success criterion)
const PAIRS: &[(&str, &str, f64, &str)] = &[
    ("ink", "paper", 4.5, "1.4.3, letters"),
    ("quiet", "paper", 4.5, "1.4.3, letters"),
    ("air", "paper", 4.5, "1.4.3, letters"),
    ("sheet", "paper", 4.5, "1.4.3, letters"),
    ("care", "paper", 4.5, "1.4.3, letters"),
    ("hold", "paper", 4.5, "1.4.3, letters"),
    ("warn", "warn-ground", 4.5, "1.4.3, letters"),
    ("quiet", "stop", 4.5, "1.4.3, letters along a break"),
    ("air", "band", 3.0, "1.4.11, the air where it crosses the band"),
    ("sheet", "band", 3.0, "1.4.11, the sheet on its band"),
    ("air", "stop", 3.0, "1.4.11, the air over a break"),
    ("sheet", "stop", 3.0, "1.4.11, the sheet over a break"),
    ("ink", "band", 3.0, "1.4.11, a test's line over the band"),
];

#[test]
fn every_pair_of_colors_has_the_contrast_that_wcag_asks_for() {
    // W3C's own examples: black on white is 21 : 1; #767676 is the lightest gray that passes 4.5.
    assert!((contrast([0; 3], [255; 3]) - 21.0).abs() < 1e-9);
    assert!((contrast([0x76; 3], [255; 3]) - 4.54).abs() < 0.005);
    assert!(contrast([0x77; 3], [255; 3]) < 4.5);
    let palette = palette();
    let mut proof = Proof::of(
        "files/contrast",
        "Contrast of the page's colors, one on the other",
        "WCAG 2.2, criteria 1.4.3 and 1.4.11, by its own formula",
        "pairs",
        Allowed::Range("at least what is asked for"),
    );
    for &(top, ground, least, criterion) in PAIRS {
        let ratio = contrast(palette[top], palette[ground]);
        proof.inside(ratio, least.., || format!("{top} on {ground}: {criterion}"));
    }
    proof.done();
}
