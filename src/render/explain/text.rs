//! The page: one line a number, and where the documents explain it.

use textwrap::{Options, WordSeparator};

use super::line::{Line, Section};
use super::see::See;
use super::{day_lines, record_lines, roof_lines, words};
use crate::plan::Explanation;
use crate::render::text::Paint;

const COLUMNS: usize = 80;
/// Room for names and for values before the notes.
const NAME_COLUMNS: usize = 20;
const VALUE_COLUMNS: usize = 13;

/// The explanation as a page of 80 columns, with a line end after every line.
pub fn text(explanation: &Explanation, paint: Paint) -> String {
    let mut sections = roof_lines::sections(explanation);
    sections.extend(day_lines::sections(explanation));
    sections.extend(record_lines::sections(explanation));
    let sections: Vec<Section> =
        sections.into_iter().filter(|section| !section.lines.is_empty()).collect();
    let mut used: Vec<See> = Vec::new();
    if words::wall(explanation).is_some() {
        used.push(See::Clock);
    }
    for line in sections.iter().flat_map(|section| &section.lines) {
        if !used.contains(&line.see) {
            used.push(line.see);
        }
    }
    let number = |see: See| 1 + used.iter().position(|other| *other == see).unwrap_or_default();
    let mut lines = heading(explanation, paint, number(See::Clock));
    for section in &sections {
        lines.push(String::new());
        lines.push(paint.strong(&section.title.to_uppercase()));
        lines.extend(section.lines.iter().flat_map(|line| line_text(line, number(line.see))));
    }
    lines.push(String::new());
    lines.push(paint.strong("WHERE EACH IS EXPLAINED"));
    lines.extend(used.iter().map(|see| format!("  {:<5}{}", tag(number(*see)), see.place())));
    lines.push(String::new());
    lines.join("\n")
}

fn heading(explanation: &Explanation, paint: Paint, clock: usize) -> Vec<String> {
    let local = explanation.time.with_timezone(&explanation.time_zone);
    let when = local.format("%A, %B %-d, %Y, %H:%M");
    let title = format!("{} - {when} ({})", explanation.site, explanation.time_zone);
    let mut lines: Vec<String> =
        wrap(&title, "", "  ").iter().map(|line| paint.strong(line)).collect();
    let verdict = wrap(&words::verdict(explanation), "", "  ");
    lines.extend(verdict.iter().map(|line| paint.verdict(explanation.verdict, line)));
    let row = explanation.weather.row.time.with_timezone(&explanation.time_zone).format("%H:%M");
    let stage = words::stage(explanation);
    lines.extend(wrap(
        &format!("{stage} Weather: {}, row of {row}.", explanation.source),
        "",
        "  ",
    ));
    if let Some(test) = &explanation.test_here {
        let cause = test.cause.name().replace('-', " ");
        lines.extend(wrap(&format!("Test weld {} begins here: {cause}.", test.id), "", "  "));
    }
    if let Some(wall) = words::wall(explanation) {
        lines.extend(wrap(&format!("{wall} {}", tag(clock)), "", "  "));
    }
    lines
}

fn line_text(line: &Line, number: usize) -> Vec<String> {
    let first = format!("  {:<NAME_COLUMNS$}{:<VALUE_COLUMNS$} ", line.name, line.value);
    let rest = " ".repeat(2 + NAME_COLUMNS + VALUE_COLUMNS + 1);
    let note = format!("{} {}", line.note, tag(number));
    wrap(note.trim_start(), &first, &rest)
}

fn tag(number: usize) -> String {
    format!("[{number}]")
}

/// Names come from a site file: control characters must not reach a terminal.
fn wrap(text: &str, first: &str, rest: &str) -> Vec<String> {
    let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let options = Options::new(COLUMNS)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_separator(WordSeparator::AsciiSpace);
    textwrap::wrap(&clean, options).iter().map(|line| line.trim_end().to_owned()).collect()
}
