//! Reading the table back: trials that the book does not have are written down as new entries.

use std::collections::{HashMap, HashSet};
use std::io::{self, Read};

use chrono::{DateTime, Utc};

use super::columns::{HEAT, NEEDED, TRIAL, all, unguard};
use crate::store::book::entry::{
    BookSite, Content, Entry, EntryId, ForecastThen, NewEntry, RecordedTrial,
};
use crate::store::book::fault::BookFault;
use crate::store::book::keeping::{Adopted, BookStore};
use crate::store::book::payload;
use crate::store::book::reading::{entries, thread};
use crate::store::book::trial_words;
use crate::testweld::{HeatTrial, Peeled, Strip, Trial, accept};
use crate::units::{BondWidth, Temperature, Thickness, TravelSpeed};

/// Largest table read, in bytes: a hundred thousand strips.
const LARGEST_TABLE: u64 = 64 << 20;
/// How often the book is looked at again because others were writing.
const TRIES: usize = 20;

/// Who takes a table in, when, and for which site where the table names none.
#[derive(Debug, Clone, PartialEq)]
pub struct Importing {
    /// For rows without a `site_key`.
    pub site: BookSite,
    /// By the clock of the machine.
    pub recorded_at: DateTime<Utc>,
    /// Who stands for the import.
    pub recorded_by: String,
}

/// Takes in a table of trials, as [`super::export_table`] writes it or made by hand. A trial that
/// the book has, or once had, is passed over; any other is written down as a new entry by whoever
/// imports, now. All or nothing.
///
/// # Errors
/// [`BookFault::Line`] with the first line that is wrong, or whose trial the book has with other
/// content; whatever keeps the book from being read or written.
pub async fn import_table(
    store: &impl BookStore,
    importing: &Importing,
    input: impl Read,
) -> Result<Adopted, BookFault> {
    let trials = read_trials(importing, input)?;
    for _ in 0..TRIES {
        let head = store.head().await?;
        let (new, known) = sort_out(importing, &trials, entries(store, None).await?)?;
        if new.is_empty() {
            return Ok(Adopted { added: 0, known });
        }
        // Only on the book that was compared with: another import may be under way.
        match store.append_all(&new, Some(head.as_ref())).await {
            Err(BookFault::Moved) => {}
            other => return other.map(|added| Adopted { added: added.len() as u64, known }),
        }
    }
    Err(BookFault::Moved)
}

/// A trial of the table.
struct Row {
    line: u64,
    site: BookSite,
    recorded: RecordedTrial,
}

/// What is new to the book, and how many trials are not.
fn sort_out(
    importing: &Importing,
    trials: &[Row],
    entries: Vec<Entry>,
) -> Result<(Vec<NewEntry>, u64), BookFault> {
    let mut seen: HashSet<(String, String)> = HashSet::new();
    for entry in &entries {
        seen.insert((entry.site.key.clone(), text_of(&entry.content)));
    }
    // No welder makes two trials at one moment.
    let mut taken: HashMap<(String, DateTime<Utc>, String), Option<EntryId>> = HashMap::new();
    for thread in thread(entries) {
        if let Some(RecordedTrial { trial, .. }) = thread.trial() {
            let key = (thread.current.site.key.clone(), trial.when, trial.welder.clone());
            taken.insert(key, Some(thread.current.id));
        }
    }
    let (mut new, mut known) = (Vec::new(), 0);
    for Row { line, site, recorded } in trials {
        let content = Content::Trial(Box::new(recorded.clone()));
        if !seen.insert((site.key.clone(), text_of(&content))) {
            known += 1;
            continue;
        }
        let trial = &recorded.trial;
        let key = (site.key.clone(), trial.when, trial.welder.clone());
        if let Some(earlier) = taken.insert(key, None) {
            let place = earlier.map_or("an earlier row".to_owned(), |id| format!("entry {id}"));
            return Err(wrong(
                *line,
                format!(
                    "{place} is another trial of {:?} at {}: correct that one, or leave this one out",
                    trial.welder, trial.when
                ),
            ));
        }
        new.push(NewEntry {
            site: site.clone(),
            recorded_at: importing.recorded_at,
            recorded_by: importing.recorded_by.clone(),
            supersedes: None,
            content,
        });
    }
    Ok((new, known))
}

/// What decides whether two trials are the same: the text in which they are kept.
fn text_of(content: &Content) -> String {
    payload::write(content).unwrap_or_default()
}

fn wrong(line: u64, problem: impl Into<String>) -> BookFault {
    BookFault::Line { line, problem: problem.into() }
}

/// The cells of one row, by column; a column that the table lacks is empty.
struct Cells {
    line: u64,
    values: Vec<String>,
}

impl Cells {
    fn raw(&self, column: &str) -> &str {
        all().position(|name| name == column).map_or("", |index| &self.values[index])
    }

    fn text(&self, column: &str) -> String {
        unguard(self.raw(column)).to_owned()
    }

    fn some_text(&self, column: &str) -> Option<String> {
        Some(self.text(column)).filter(|text| !text.is_empty())
    }

    fn some_number(&self, column: &str) -> Result<Option<f64>, BookFault> {
        let text = self.raw(column).trim();
        if text.is_empty() {
            return Ok(None);
        }
        match text.parse::<f64>() {
            Ok(value) if value.is_finite() => Ok(Some(value)),
            _ => Err(self.expected(column, "a number with a decimal point, such as 21.5")),
        }
    }

    fn number(&self, column: &str) -> Result<f64, BookFault> {
        let expected = || self.expected(column, "a number with a decimal point, such as 21.5");
        self.some_number(column)?.ok_or_else(expected)
    }

    fn moment(&self, column: &str) -> Result<DateTime<Utc>, BookFault> {
        DateTime::parse_from_rfc3339(self.raw(column).trim())
            .map(|at| at.to_utc())
            .map_err(|_| self.expected(column, "a time such as 2026-04-20T22:00:00Z"))
    }

    /// A word of a fixed choice.
    fn word<T>(
        &self,
        column: &str,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Result<T, BookFault> {
        read(self.raw(column).trim()).map_err(|problem| wrong(self.line, problem))
    }

    fn speed(&self, column: &str) -> Result<Option<TravelSpeed>, BookFault> {
        Ok(self.some_number(column)?.map(TravelSpeed::from_feet_per_minute))
    }

    fn expected(&self, column: &str, expected: &str) -> BookFault {
        let found: String = self.raw(column).chars().take(40).collect();
        wrong(self.line, format!("`{column}` is {found:?}, expected {expected}"))
    }

    fn trial_part(&self) -> &[String] {
        &self.values[..TRIAL.len()]
    }

    fn heat_part(&self) -> &[String] {
        &self.values[TRIAL.len()..TRIAL.len() + HEAT.len()]
    }

    fn has_strip(&self) -> bool {
        self.values[TRIAL.len() + HEAT.len()..].iter().any(|cell| !cell.is_empty())
    }

    fn has_heat(&self) -> bool {
        self.has_strip() || self.heat_part().iter().any(|cell| !cell.is_empty())
    }
}

fn read_trials(importing: &Importing, input: impl Read) -> Result<Vec<Row>, BookFault> {
    let rows = read_rows(input)?;
    rows.chunk_by(|one, next| one.raw("entry") == next.raw("entry"))
        .map(|rows| read_trial(importing, rows))
        .collect()
}

fn read_rows(input: impl Read) -> Result<Vec<Cells>, BookFault> {
    let mut table = csv::ReaderBuilder::new().from_reader(input.take(LARGEST_TABLE));
    let header = table.headers().map_err(|error| unreadable(&error))?.clone();
    if let Some(unknown) = header.iter().find(|name| !all().any(|column| column == *name)) {
        let known = all().collect::<Vec<_>>().join(", ");
        return Err(wrong(1, format!("no column is called {unknown:?}; there are {known}")));
    }
    if let Some(lacking) = NEEDED.iter().find(|needed| !header.iter().any(|name| name == **needed))
    {
        return Err(wrong(1, format!("the column `{lacking}` is missing")));
    }
    let place_of: Vec<Option<usize>> =
        all().map(|column| header.iter().position(|name| name == column)).collect();
    let mut rows = Vec::new();
    for record in table.records() {
        let record = record.map_err(|error| unreadable(&error))?;
        let line = record.position().map_or(0, csv::Position::line);
        let cell = |place: &Option<usize>| place.and_then(|place| record.get(place));
        let values = place_of.iter().map(|place| cell(place).unwrap_or_default().to_owned());
        rows.push(Cells { line, values: values.collect() });
    }
    if table.into_inner().limit() == 0 {
        return Err(wrong(
            rows.last().map_or(1, |row| row.line),
            format!("expected a table of less than {LARGEST_TABLE} bytes, found more: split it"),
        ));
    }
    Ok(rows)
}

fn unreadable(error: &csv::Error) -> BookFault {
    let line = error.position().map_or(1, csv::Position::line);
    match error.kind() {
        csv::ErrorKind::Io(cause) => BookFault::Stream {
            doing: "read the import",
            cause: io::Error::new(cause.kind(), cause.to_string()),
        },
        csv::ErrorKind::Utf8 { .. } => wrong(line, "expected UTF-8 text, found other bytes"),
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            wrong(line, format!("expected {expected_len} cells, found {len}"))
        }
        _ => wrong(line, error.to_string()),
    }
}

/// The trial of `rows`, of which there is at least one.
fn read_trial(importing: &Importing, rows: &[Cells]) -> Result<Row, BookFault> {
    let first = &rows[0];
    if let Some(other) = rows.iter().find(|row| row.trial_part() != first.trial_part()) {
        return Err(wrong(
            other.line,
            format!(
                "the columns of the trial differ from line {}: give another trial another `entry`",
                first.line
            ),
        ));
    }
    let mut recorded = read_conditions(first)?;
    let with_heat: Vec<&Cells> = rows.iter().filter(|row| row.has_heat()).collect();
    for heat in with_heat.chunk_by(|one, next| one.raw("heat") == next.raw("heat")) {
        recorded.trial.heats.push(read_heat(heat)?);
    }
    accept(&recorded.trial, &[], importing.recorded_at)
        .map_err(|refusal| wrong(first.line, refusal.to_string()))?;
    let site = match first.some_text("site_key") {
        Some(key) => BookSite { key, name: first.text("site") },
        None => importing.site.clone(),
    };
    Ok(Row { line: first.line, site, recorded })
}

fn read_conditions(row: &Cells) -> Result<RecordedTrial, BookFault> {
    let trial = Trial {
        when: row.moment("when")?,
        who: row.text("who"),
        welder: row.text("welder"),
        welder_kind: row.word("welder_kind", trial_words::kind)?,
        polymer: row.word("polymer", trial_words::polymer)?,
        thickness: Thickness::from_millimeters(row.number("thickness_mm")?),
        lot: row.some_text("lot"),
        roll: row.some_text("roll"),
        ambient: Temperature::from_celsius(row.number("ambient_c")?),
        sheet: row.some_number("sheet_c")?.map(Temperature::from_celsius),
        weights: row.some_text("weights"),
        air_flow: row.some_text("air_flow"),
        speed: row.speed("speed_ft_per_min")?,
        heats: Vec::new(),
        note: row.some_text("note"),
    };
    let forecast = match row.some_number("forecast_ambient_c")? {
        Some(ambient) => Some(ForecastThen {
            ambient: Temperature::from_celsius(ambient),
            issued_at: row.moment("forecast_issued_at")?,
        }),
        None if row.raw("forecast_issued_at").is_empty() => None,
        None => return Err(row.expected("forecast_ambient_c", "the ambient that was forecast")),
    };
    Ok(RecordedTrial { trial, checkpoint: row.some_text("checkpoint"), forecast })
}

/// The heat of `rows`, of which there is at least one.
fn read_heat(rows: &[&Cells]) -> Result<HeatTrial, BookFault> {
    let first = rows[0];
    if let Some(other) = rows.iter().find(|row| row.heat_part() != first.heat_part()) {
        return Err(wrong(
            other.line,
            format!(
                "the columns of the heat differ from line {}: give another heat another `heat`",
                first.line
            ),
        ));
    }
    let strips = rows.iter().filter(|row| row.has_strip()).map(|row| read_strip(row));
    Ok(HeatTrial {
        heat: Temperature::from_celsius(first.number("heat_c")?),
        speed: first.speed("heat_speed_ft_per_min")?,
        weights: first.some_text("heat_weights"),
        air_flow: first.some_text("heat_air_flow"),
        strips: strips.collect::<Result<_, _>>()?,
    })
}

fn read_strip(row: &Cells) -> Result<Strip, BookFault> {
    Ok(Strip {
        bond_width: BondWidth::from_millimeters(row.number("bond_width_mm")?),
        parted: row.word("parted", trial_words::parted)?,
        signs: row.word("signs", |words| trial_words::signs(words.split_whitespace()))?,
        peeled: match row.raw("peeled").trim() {
            // As every crew is told to pull.
            "" => Peeled::Across,
            _ => row.word("peeled", trial_words::peeled)?,
        },
    })
}
