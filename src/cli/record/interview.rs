//! One question at a time: the order, the way back, the end. Works with any reader and writer.

use std::io::{self, BufRead, Write};

use super::answers::{Line, next_line};
use super::draft::{Desk, Draft};
use super::form::{Form, Step};
use crate::plan::DayPlan;
use crate::render::trial::clean;
use crate::testweld::Trial;

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

const WELCOME: &str = "One question at a time. Enter takes what stands in brackets, `-` is none,
`b` goes back, `?` explains, ctrl-D stops and writes nothing.";

/// Asks until everything is answered and confirmed; `None` where somebody stopped.
///
/// # Errors
/// When `input` cannot be read or `output` not written.
pub fn interview(
    asking: &Asking<'_>,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
) -> io::Result<Option<Asked>> {
    writeln!(output, "{WELCOME}\n")?;
    let mut form = Form::new(asking);
    let mut step = form.first();
    loop {
        let question = form.question(step);
        if step == Step::Confirm {
            match (asking.preview)(form.draft()) {
                Ok(verdict) => writeln!(output, "\n{verdict}")?,
                Err(refusal) => writeln!(output, "\nNot taken in: {refusal}\nGo back with `b`.")?,
            }
        }
        let offered = question.offered.as_deref().map_or_else(
            || if question.optional { " [none]".to_owned() } else { String::new() },
            |offered| format!(" [{}]", clean(offered)),
        );
        write!(output, "{}{offered}: ", clean(&question.prompt))?;
        output.flush()?;
        let answer = match next_line(input)? {
            Line::End => {
                writeln!(output, "\nStopped; nothing was written.")?;
                return Ok(None);
            }
            Line::Unreadable(why) => {
                writeln!(output, "  {why}; once more, please")?;
                continue;
            }
            Line::Text(answer) => answer,
        };
        match answer.as_str() {
            "?" => writeln!(output, "  {}", question.help.replace('\n', "\n  "))?,
            "b" => match form.before(step) {
                Some(before) => step = before,
                None => writeln!(output, "  this is the first question")?,
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
                writeln!(output, "Stopped; nothing was written.")?;
                return Ok(None);
            }
            None => return Ok(Some(form.into_asked())),
        }
    }
}
