//! The page of `fairseam cord`: 80 columns, every verdict in words.

use super::words;
use crate::plan::power::{CordOption, CordReport, GeneratorReport, PowerReport, WhatIf};
use crate::render::figures::whole;
use crate::render::text::{Paint, bullet, clean, section, wrap};
use crate::units::UnitSystem;

/// The report as text, with a line end after every line.
pub fn cord_text(report: &PowerReport, what_if: &WhatIf, paint: Paint) -> String {
    let title = format!("{} - generator and cord", clean(&report.site));
    let mut lines: Vec<String> =
        wrap(&title, "", "  ").iter().map(|line| paint.strong(line)).collect();
    if let Some(line) = words::what_if(what_if, report.units) {
        lines.extend(wrap(&line, "", "  "));
    }
    if let Ok(generator) = &report.generator {
        section(&mut lines, paint, "Generator", generator_lines(generator, report));
    }
    for welder in &report.cords {
        if let Ok(cord) = &welder.cord {
            // The name keeps its letters' case: a section's title would lose it.
            section(&mut lines, paint, "Cord", cord_lines(&welder.welder, cord, report));
        }
    }
    section(&mut lines, paint, "Not checked", not_checked(report));
    let taken = words::taken(report.units);
    let taken = taken.iter().flat_map(|text| bullet(text)).collect();
    section(&mut lines, paint, "What these figures take for granted", taken);
    let cautions = words::CAUTIONS.iter().flat_map(|text| bullet(text)).collect();
    section(&mut lines, paint, "Cautions", cautions);
    lines.push(String::new());
    lines.join("\n")
}

fn row(name: &str, text: &str) -> Vec<String> {
    wrap(&clean(text), &format!("  {name:<10}"), &" ".repeat(12))
}

fn generator_lines(generator: &GeneratorReport, report: &PowerReport) -> Vec<String> {
    let margin = generator.load.as_ref().map(|load| {
        let most = if load.unrated.is_empty() { "" } else { " at most" };
        format!("{} W{most}", whole(load.margin_watts))
    });
    [
        ("Verdict", Some(words::generator_verdict(generator))),
        ("Rated", Some(format!("{} W continuous", whole(generator.rated_watts)))),
        ("Left", Some(words::generator_left(generator, report))),
        ("Load", Some(words::generator_load(generator))),
        ("Margin", margin),
        ("Shared", Some(words::sharing(report))),
    ]
    .into_iter()
    .filter_map(|(name, text)| Some(row(name, &text?)))
    .flatten()
    .collect()
}

fn cord_lines(welder: &str, cord: &CordReport, report: &PowerReport) -> Vec<String> {
    let (load, now, units) = (cord.load, &cord.now, report.units);
    let plate = format!(
        "{welder}: {} W at {} V by its plate, {:.1} A",
        whole(load.rated_watts),
        whole(load.rated_volts),
        load.rated_watts / load.rated_volts
    );
    let lost = format!(
        "{:.1} V, {:.1} %, at the {:.1} A that flow; by the textbook's 2·L·R·I at the plate's \
         current {:.1} V, {:.1} %",
        now.check.drop_volts,
        100.0 * now.check.drop_fraction,
        now.check.amps,
        now.check.rated_drop_volts,
        100.0 * now.check.rated_drop_volts / load.rated_volts
    );
    let arrives = format!(
        "{:.1} V and {} W: {} % of the watts",
        now.check.volts_at_welder,
        whole(now.check.watts_at_welder),
        whole(100.0 * now.check.watts_fraction)
    );
    let mut lines: Vec<String> = [
        ("Welder", plate),
        ("Cord", format!("{} one way", words::cord(now.conductor, now.length, units))),
        ("Verdict", words::cord_verdict(cord).to_owned()),
        ("Lost", lost),
        ("Arrives", arrives),
        ("Weld", words::effect(cord, report)),
    ]
    .into_iter()
    .flat_map(|(name, text)| row(name, &text))
    .collect();
    lines.push(String::new());
    lines.push(
        "  What another cord would give        lost     at the welder   longest for 3 %".into(),
    );
    lines.push(table_row(now, units, "now"));
    lines.extend(cord.others.iter().map(|option| table_row(option, units, "")));
    lines
}

fn table_row(option: &CordOption, units: UnitSystem, mark: &str) -> String {
    let check = &option.check;
    let line = format!(
        "    {:<20} {mark:<4} {:>5.1} V {:>5.1} %  {:>7} W {:>3} %  {:>15}",
        words::cord(option.conductor, option.length, units),
        check.drop_volts,
        100.0 * check.drop_fraction,
        whole(check.watts_at_welder),
        whole(100.0 * check.watts_fraction),
        words::at_most(option.longest, units)
    );
    line.trim_end().to_owned()
}

fn not_checked(report: &PowerReport) -> Vec<String> {
    let generator = report.generator.as_ref().err().map(|why| ("generator", why));
    let cords = report
        .cords
        .iter()
        .filter_map(|welder| welder.cord.as_ref().err().map(|why| (welder.welder.as_str(), why)));
    generator
        .into_iter()
        .chain(cords)
        .flat_map(|(name, why)| bullet(&format!("{name}: {}", words::unchecked(why, report.units))))
        .collect()
}
