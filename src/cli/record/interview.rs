//! One question at a time: the order, the way back, the end. Works with any reader and writer.

use std::io::{self, BufRead, Write};

use super::answers::{Line, next_line};
use super::draft::{Desk, Draft};
use super::form::Form;
use super::step::Step;
use crate::plan::DayPlan;
use crate::render::trial::clean;
use crate::testweld::Trial;
use crate::words::{Language, tell};

/// What the questions start from.
#[derive(Clone, Copy)]
pub struct Asking<'a> {
    /// Site, zone and clock.
    pub desk: Desk<'a>,
    /// Today's plan, where there is one.
    pub plan: Option<&'a DayPlan>,
    /// The newest trial of the book, whose names and words are offered again.
    pub last: Option<&'a Trial>,
    /// The verdict on a draft in a few lines, or why it cannot be taken in.
    pub preview: &'a dyn Fn(&Draft) -> Result<String, String>,
}

/// What was answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The trial.
    pub draft: Draft,
    /// The air was taken over from the plan, not read.
    pub air_is_forecast: bool,
}

/// Of an explanation, without the two blanks in front.
const COLUMNS: usize = 78;

/// Asks until everything is answered and confirmed; `None` where somebody stopped.
///
/// # Errors
/// When `input` cannot be read or `output` not written.
pub fn interview(
    asking: &Asking<'_>,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
) -> io::Result<Option<Asked>> {
    let language = asking.desk.site.language;
    let (welcome, keys) = (tell!(language, "record-welcome"), tell!(language, "record-keys"));
    writeln!(output, "{welcome}\n{keys}\n")?;
    let mut form = Form::new(asking);
    let mut step = form.first();
    loop {
        let question = form.question(step);
        if step == Step::Confirm {
            match (asking.preview)(form.draft()) {
                Ok(verdict) => writeln!(output, "\n{verdict}")?,
                Err(why) => {
                    let said = tell!(language, "record-not-taken", why);
                    writeln!(output, "\n{said}\n{}", tell!(language, "record-go-back"))?;
                }
            }
        }
        let offered = question.offered.as_deref().map_or_else(
            || match question.optional {
                true => format!(" [{}]", tell!(language, "record-nothing-offered")),
                false => String::new(),
            },
            |offered| format!(" [{}]", clean(offered)),
        );
        write!(output, "{}{offered}: ", clean(&question.prompt))?;
        output.flush()?;
        let answer = match next_line(input)? {
            Line::End => {
                writeln!(output, "\n{}", tell!(language, "record-stopped"))?;
                return Ok(None);
            }
            Line::TooLong => {
                once_more(output, language, tell!(language, "record-line-too-long"))?;
                continue;
            }
            Line::NoText => {
                once_more(output, language, tell!(language, "record-line-no-text"))?;
                continue;
            }
            Line::Text(answer) => answer,
        };
        match answer.as_str() {
            "?" => explain(output, &question.help)?,
            "b" => match form.before(step) {
                Some(before) => step = before,
                None => writeln!(output, "  {}", tell!(language, "record-first-question"))?,
            },
            _ => match form.answer(step, &answer) {
                Ok(()) => {}
                Err(said) => {
                    writeln!(output, "  {}", clean(&said))?;
                    continue;
                }
            },
        }
        if matches!(answer.as_str(), "?" | "b") {
            continue;
        }
        match form.after(step) {
            Some(after) => step = after,
            None if form.refused() => {
                writeln!(output, "{}", tell!(language, "record-stopped"))?;
                return Ok(None);
            }
            None => return Ok(Some(form.into_asked())),
        }
    }
}

fn once_more(output: &mut dyn Write, language: Language, why: String) -> io::Result<()> {
    writeln!(output, "  {}", tell!(language, "record-once-more", why))
}

/// Set in by two, in lines that a terminal shows whole.
fn explain(output: &mut dyn Write, help: &str) -> io::Result<()> {
    for line in help.lines().flat_map(|line| textwrap::wrap(line, COLUMNS)) {
        writeln!(output, "  {line}")?;
    }
    Ok(())
}
