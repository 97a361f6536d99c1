//! Entries for the tests of the test-weld book, and what is needed to write and read them.

use std::collections::BTreeSet;
use std::path::Path;

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::site::{Kind, Polymer};
use fairseam::store::book::{
    BookFault, BookSite, Content, EntryId, ForecastThen, NewEntry, RecordedTrial, Run, SqliteBook,
    Supersedes, Verified, record, verify,
};
use fairseam::testweld::{HeatTrial, Parted, Peeled, Sign, Strip, Trial};
use fairseam::units::{BondWidth, Temperature, Thickness, TravelSpeed};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use proptest::{collection, option, sample};
use sqlx::ConnectOptions;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};

pub(crate) fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

/// The moment of the first entry.
pub(crate) fn start() -> DateTime<Utc> {
    utc("2026-04-20T11:00:00Z")
}

pub(crate) fn site(name: &str) -> BookSite {
    BookSite { key: format!("key of {name}"), name: name.to_owned() }
}

/// Runs to the end on this thread, as the commands do.
pub(crate) fn run<T>(future: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(future)
}

pub(crate) async fn open(folder: &Path) -> SqliteBook {
    SqliteBook::open(folder).await.unwrap()
}

/// The database without the book's own code: for damage and for a second opinion.
pub(crate) async fn raw(folder: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new().filename(folder.join("book.sqlite3"));
    options.foreign_keys(false).connect().await.unwrap()
}

/// A trial at `minutes` after the start: 800 °F cold, 900 and 1000 °F good.
pub(crate) fn trial(minutes: i64) -> RecordedTrial {
    let strips = |parted| {
        let width = BondWidth::from_millimeters(38.1);
        let strip =
            Strip { bond_width: width, parted, signs: BTreeSet::new(), peeled: Peeled::Across };
        vec![strip; 3]
    };
    let heat =
        |degrees, parted| HeatTrial::new(Temperature::from_fahrenheit(degrees), strips(parted));
    let trial = Trial {
        when: start() + TimeDelta::minutes(minutes),
        who: "R. Ortiz".to_owned(),
        welder: "automatic 1".to_owned(),
        welder_kind: Kind::Automatic,
        polymer: Polymer::Pvc,
        thickness: Thickness::from_mils(80.0),
        lot: Some("A-17".to_owned()),
        roll: None,
        ambient: Temperature::from_fahrenheit(71.0),
        sheet: Some(Temperature::from_fahrenheit(88.0)),
        weights: None,
        air_flow: None,
        speed: Some(TravelSpeed::from_feet_per_minute(9.0)),
        heats: vec![
            heat(800.0, Parted::Cold),
            heat(900.0, Parted::FilmTear),
            heat(1000.0, Parted::FilmTear),
        ],
        note: None,
    };
    let forecast =
        Some(ForecastThen { ambient: Temperature::from_celsius(21.0), issued_at: start() });
    RecordedTrial { trial, checkpoint: Some("start".to_owned()), forecast }
}

pub(crate) fn trial_entry(minutes: i64) -> NewEntry {
    entry(minutes, Content::Trial(Box::new(trial(minutes))))
}

pub(crate) fn entry(minutes: i64, content: Content) -> NewEntry {
    NewEntry {
        site: site("east bay"),
        recorded_at: start() + TimeDelta::minutes(minutes + 10),
        recorded_by: "R. Ortiz".to_owned(),
        supersedes: None,
        content,
    }
}

pub(crate) fn note(minutes: i64) -> NewEntry {
    entry(minutes, Content::Note(format!("note {minutes}")))
}

pub(crate) fn run_entry(minutes: i64) -> NewEntry {
    let run = Run {
        from: start() + TimeDelta::minutes(minutes),
        welder: "automatic 1".to_owned(),
        heat: Temperature::from_fahrenheit(950.0),
        speed: Some(TravelSpeed::from_feet_per_minute(9.0)),
        note: None,
    };
    entry(minutes, Content::Run(run))
}

/// `new` in place of entry `number`.
pub(crate) fn instead_of(number: u64, new: NewEntry) -> NewEntry {
    let because = "misread".to_owned();
    NewEntry { supersedes: Some(Supersedes { entry: EntryId(number), because }), ..new }
}

/// A book of `count` entries that holds.
pub(crate) async fn filled(folder: &Path, count: i64) -> SqliteBook {
    let book = open(folder).await;
    for minutes in 0..count {
        let new = match minutes % 4 {
            0 | 1 => trial_entry(minutes),
            2 => run_entry(minutes),
            _ => note(minutes),
        };
        record(&book, &new).await.unwrap();
    }
    book
}

pub(crate) async fn assert_holds(book: &SqliteBook, entries: u64) -> Verified {
    let verified = verify(book).await.unwrap();
    assert_eq!(verified.fault, None);
    assert_eq!(verified.entries, entries);
    verified
}

/// The fault's sentence: there, on one line, and naming the file where `names` is set.
pub(crate) fn sentence(fault: &BookFault, names: Option<&Path>) -> String {
    let text = fault.to_string();
    assert!(!text.is_empty() && !text.contains('\n'), "{text}");
    if let Some(path) = names {
        assert!(text.contains(&path.display().to_string()), "{text}");
    }
    text
}

/// Texts that have broken other programs, and any other.
fn any_text() -> impl Strategy<Value = String> {
    let hostile = sample::select(vec![
        "Robert'); DROP TABLE entry;--",
        "two\nlines\r\nand a third\r",
        "\"quoted\" 'and' `more`, with; commas",
        "👷‍♀️🔥 Kühlhaus",
        "<script>alert('x')</script>&amp;",
        "=1+1",
        "-5",
        "@name",
        "'=guarded",
        "\u{0}nul",
        "\u{feff}mark",
        "\u{202e}right to left",
        " spaced ",
        "{\"payload\":1}",
        "NULL",
    ])
    .prop_map(str::to_owned);
    prop_oneof![hostile, any::<String>()]
}

fn any_name() -> impl Strategy<Value = String> {
    any_text().prop_filter("a name", |name| !name.trim().is_empty())
}

fn some_text() -> impl Strategy<Value = Option<String>> {
    option::of(any_text().prop_filter("an empty text is none", |text| !text.is_empty()))
}

fn any_moment() -> impl Strategy<Value = DateTime<Utc>> {
    (0_i64..1_770_000_000, 0_u32..1_000_000_000)
        .prop_map(|(seconds, nanos)| DateTime::from_timestamp(seconds, nanos).unwrap())
}

fn celsius(range: std::ops::Range<f64>) -> impl Strategy<Value = Temperature> {
    range.prop_map(Temperature::from_celsius)
}

fn any_speed() -> impl Strategy<Value = Option<TravelSpeed>> {
    option::of((0.2..99.0).prop_map(TravelSpeed::from_feet_per_minute))
}

fn any_strip() -> impl Strategy<Value = Strip> {
    (
        0.0..149.0,
        sample::select(Parted::ALL.to_vec()),
        collection::btree_set(sample::select(Sign::ALL.to_vec()), 0..3),
        sample::select(Peeled::ALL.to_vec()),
    )
        .prop_map(|(width, parted, signs, peeled)| Strip {
            bond_width: BondWidth::from_millimeters(width),
            parted,
            signs,
            peeled,
        })
}

fn any_heat(kind: Kind) -> impl Strategy<Value = HeatTrial> {
    let strips = collection::vec(any_strip(), 0..4);
    (celsius(1.0..999.0), any_speed(), some_text(), some_text(), strips).prop_map(
        move |(heat, speed, weights, air_flow, strips)| {
            let speed = speed.filter(|_| kind == Kind::Automatic);
            HeatTrial { heat, speed, weights, air_flow, strips }
        },
    )
}

/// Any trial that the door of the book lets in.
pub(crate) fn any_trial() -> impl Strategy<Value = RecordedTrial> {
    sample::select(vec![Kind::Automatic, Kind::Hand]).prop_flat_map(any_trial_of)
}

fn any_trial_of(kind: Kind) -> impl Strategy<Value = RecordedTrial> {
    let polymers = sample::select(vec![Polymer::Pvc, Polymer::Tpo, Polymer::Kee]);
    let heats = collection::vec(any_heat(kind), 1..4);
    let forecast = option::of((celsius(-80.0..55.0), any_moment()));
    (
        (any_moment(), any_name(), any_name(), polymers, 0.2..9.0),
        (some_text(), some_text(), some_text(), some_text(), some_text(), some_text()),
        (celsius(-80.0..55.0), option::of(celsius(-80.0..110.0)), any_speed(), heats, forecast),
    )
        .prop_map(move |(named, texts, measured)| {
            let (when, who, welder, polymer, thickness) = named;
            let (lot, roll, weights, air_flow, note, checkpoint) = texts;
            let (ambient, sheet, speed, heats, forecast) = measured;
            let trial = Trial {
                when,
                who,
                welder,
                welder_kind: kind,
                polymer,
                thickness: Thickness::from_millimeters(thickness),
                lot,
                roll,
                ambient,
                sheet,
                weights,
                air_flow,
                speed: speed.filter(|_| kind == Kind::Automatic),
                heats,
                note,
            };
            let forecast = forecast.map(|(ambient, issued_at)| ForecastThen { ambient, issued_at });
            RecordedTrial { trial, checkpoint, forecast }
        })
}

fn any_content() -> impl Strategy<Value = Content> {
    let run = (any_moment(), any_name(), celsius(1.0..999.0), any_speed(), some_text()).prop_map(
        |(from, welder, heat, speed, note)| Content::Run(Run { from, welder, heat, speed, note }),
    );
    prop_oneof![
        4 => any_trial().prop_map(|recorded| Content::Trial(Box::new(recorded))),
        1 => run,
        1 => any_name().prop_map(Content::Note),
    ]
}

/// Entries of which some correct or withdraw an earlier one. Recorded after the trials were made.
pub(crate) fn any_entries() -> impl Strategy<Value = Vec<NewEntry>> {
    let one = (any_content(), any_name(), any_name(), any_name(), any::<Option<sample::Index>>());
    collection::vec(one, 1..8).prop_map(|parts| {
        let mut entries: Vec<NewEntry> = Vec::new();
        let mut superseded = BTreeSet::new();
        for (content, site_name, recorded_by, because, corrects) in parts {
            let recorded_at = utc("2026-04-20T12:00:00.123456Z");
            let site = site(&site_name);
            let mut new = NewEntry { site, recorded_at, recorded_by, supersedes: None, content };
            let old = corrects.filter(|_| !entries.is_empty()).map(|at| at.index(entries.len()));
            if let Some(old) = old.filter(|old| superseded.insert(*old)) {
                let entry = EntryId(old as u64 + 1);
                new.site = entries[old].site.clone();
                new.supersedes = Some(Supersedes { entry, because });
                if std::mem::discriminant(&new.content)
                    != std::mem::discriminant(&entries[old].content)
                {
                    new.content = Content::Withdrawn;
                }
            }
            entries.push(new);
        }
        entries
    })
}

/// A few cases of a few entries: each takes three databases.
pub(crate) fn few() -> TestRunner {
    TestRunner::new(Config { cases: 12, failure_persistence: None, ..Config::default() })
}
