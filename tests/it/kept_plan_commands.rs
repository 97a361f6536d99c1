//! `plan` keeps what the crew goes by; `book --report` and `--month` hold the day against it.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use sqlx::{Connection, Executor};

use crate::binary::{Run, fairseam_at, root};
use crate::book_store_sample::{open, raw, run as block_on};
use crate::weather_server::{Canned, Server};

/// 18:00 on the site's clock, the evening before.
const EVENING: &str = "2027-04-20T23:00:00Z";
/// 10:00, in the shift of 07:00 to 15:30.
const DURING: &str = "2027-04-21T15:00:00Z";
const AFTER: &str = "2027-04-22T13:00:00Z";
const DAY: &str = "2027-04-21";
const FORECAST: &str = include_str!("../../config/demo/forecast.json");

/// A home and a copy of the demonstration site that a test may change.
struct Place {
    folder: tempfile::TempDir,
}

impl Place {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        for name in ["site.toml", "forecast.json"] {
            fs::copy(root().join("config/demo").join(name), folder.path().join(name)).unwrap();
        }
        Self { folder }
    }

    fn home(&self) -> PathBuf {
        self.folder.path().join("home")
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().unwrap().to_owned()
    }

    fn change(&self, name: &str, from: &str, to: &str) {
        let text = fs::read_to_string(self.path(name)).unwrap();
        assert!(text.contains(from), "{from} is not in {name}");
        fs::write(self.path(name), text.replace(from, to)).unwrap();
    }

    fn run(&self, command: &str, flags: &[&str], now: &str) -> Run {
        let site = self.path("site.toml");
        let line: Vec<&str> = [command, &site].into_iter().chain(flags.iter().copied()).collect();
        fairseam_at(&self.home(), &line, now)
    }

    fn plan(&self, flags: &[&str], now: &str) -> Run {
        let run = self.run("plan", &[&["--date", DAY], flags].concat(), now);
        assert_eq!(run.code, 0, "{}", run.stderr);
        run
    }

    fn report(&self) -> Value {
        let run = self.run("book", &["--report", DAY, "--format", "json"], AFTER);
        assert_eq!(run.code, 0, "{}", run.stderr);
        serde_json::from_str(&run.stdout).unwrap()
    }

    fn month(&self) -> Value {
        let run = self.run("book", &["--month", "2027-04", "--format", "json"], AFTER);
        assert_eq!(run.code, 0, "{}", run.stderr);
        serde_json::from_str(&run.stdout).unwrap()
    }
}

fn has_book(home: &Path) -> bool {
    home.join("book.sqlite3").exists()
}

fn due(report: &Value) -> Vec<&str> {
    let points = report["checkpoints"].as_array().unwrap();
    points.iter().map(|point| point["due"].as_str().unwrap()).collect()
}

#[test]
fn a_plan_from_a_file_is_kept_only_where_that_is_asked_for() {
    let place = Place::new();
    let said = place.plan(&[], EVENING).stderr;
    assert!(said.is_empty() && !has_book(&place.home()), "{said}");
    place.plan(&["--forecast", &place.path("forecast.json")], EVENING);
    assert!(!has_book(&place.home()));
    place.plan(&["--keep"], EVENING);
    assert!(has_book(&place.home()));
}

#[test]
fn a_plan_of_a_shift_that_is_over_is_not_kept() {
    let place = Place::new();
    let run = place.run("plan", &["--date", DAY, "--keep"], AFTER);
    assert_eq!((run.code, run.stdout.as_str()), (1, ""));
    assert!(run.stderr.contains("that of 2027-04-21 is over"), "{}", run.stderr);
    assert!(!has_book(&place.home()));
}

#[test]
fn a_plan_from_a_service_is_kept_and_a_what_if_beside_it_is_not() {
    let place = Place::new();
    let server = Server::start([Canned::json(FORECAST), Canned::json(FORECAST)]);
    let service = format!("source = \"open-meteo\"\nbase_url = \"{}\"", server.base());
    place.change("site.toml", "source = \"file\"\npath = \"forecast.json\"", &service);
    place.plan(&[], EVENING);
    place.plan(&["--forecast", &place.path("forecast.json")], EVENING);
    let report = place.report();
    assert_eq!(report["plan"]["standing"], "at-shift-start");
    assert_eq!(report["plan"]["made_at"], "2027-04-20T18:00:00-05:00");
    assert_eq!(report["weather"]["source"], "open-meteo");
    let plans = block_on(async {
        use fairseam::store::book::BookStore;
        open(&place.home()).await.plan_page(0, 10).await.unwrap().len()
    });
    assert_eq!(plans, 1);
}

#[test]
fn the_report_of_a_past_day_is_held_against_the_plan_as_the_shift_began_with_it() {
    let place = Place::new();
    place.plan(&["--keep"], EVENING);
    let planned = place.report();
    // The tests of the demonstration day in the README.
    assert_eq!(
        due(&planned),
        ["2027-04-21T07:50:00-05:00", "2027-04-21T09:24:00-05:00", "2027-04-21T12:30:00-05:00"]
    );
    assert_eq!(planned["checkpoints"][1]["because"], "air up 10.0 °F since the 07:50 test");
    assert_eq!(planned["weather"]["hours"].as_array().unwrap().len(), 9);
    assert_eq!(planned["weather"]["hours"][8]["verdict"], "hold");
    // Planned again in the shift, with a longer lunch, then the forecast goes away.
    place.change("site.toml", "start = \"12:00\", minutes = 30", "start = \"11:00\", minutes = 60");
    place.plan(&["--keep"], DURING);
    fs::remove_file(place.path("forecast.json")).unwrap();
    let after = place.report();
    for part in ["plan", "weather", "checkpoints"] {
        assert_eq!(after[part], planned[part], "history was written anew: {part}");
    }
    let text = place.run("book", &["--report", DAY], AFTER).stdout;
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "Plan: as it stood when the shift began, made 2027-04-20 18:00.",
        "3 checkpoints: 3 missed; 0 trials.",
        "12:00 68 °F 28 % 12 mph 27 mph 0.00 in care",
    ] {
        assert!(flat.contains(said), "`{said}` is missing:\n{text}");
    }
    let month = place.month();
    assert_eq!((&month["planned"], &month["missed"]), (&3.into(), &3.into()));
    assert_eq!(month["days"][0]["planned_again"], false);
}

#[test]
fn a_plan_first_made_in_the_shift_counts_and_is_said_to_be_late() {
    let place = Place::new();
    place.plan(&["--keep"], DURING);
    assert_eq!(place.report()["plan"]["standing"], "made-later");
    let text = place.run("book", &["--report", DAY], AFTER).stdout;
    assert!(text.contains("after the shift had begun"), "{text}");
}

#[test]
fn without_a_kept_plan_a_day_is_planned_again_and_marked_and_an_untested_one_left_out() {
    let place = Place::new();
    let report = place.report();
    assert_eq!(report["plan"]["standing"], "planned-again");
    // Nobody has planned the 21st and nobody has tested: nothing was missed.
    assert_eq!(place.month()["days"], serde_json::json!([]));
    let trial = ["--welder", "automatic 1", "--who", "M.", "--air", "44", "--speed", "6"];
    let strips = ["--at", "07:55", "--heat", "800", "--strips", "1.5 film-tear x3"];
    let run = place.run("record", &[&trial[..], &strips].concat(), "2027-04-21T13:00:00Z");
    assert_eq!(run.code, 0, "{}", run.stderr);
    let day = &place.month()["days"][0];
    assert_eq!(
        (&day["planned"], &day["planned_again"], &day["made"]),
        (&3.into(), &true.into(), &1.into())
    );
    let text = place.run("book", &["--month", "2027-04"], AFTER).stdout;
    assert!(text.contains("3~") && text.contains("1 day marked `~`"), "{text}");
}

/// The plan comes out whole, with one warning on stderr.
fn assert_planned_but_not_kept(place: &Place, cause: &str) {
    let whole = fairseam_at(
        &place.folder.path().join("other"),
        &["plan", &place.path("site.toml"), "--date", DAY],
        EVENING,
    );
    let run = place.plan(&["--keep"], EVENING);
    let sheet = |text: &str| text.lines().take(20).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(sheet(&run.stdout)[..12], sheet(&whole.stdout)[..12]);
    let warned: Vec<&str> =
        run.stderr.lines().filter(|line| line.starts_with("warning: ")).collect();
    assert_eq!(warned.len(), 1, "{}", run.stderr);
    assert!(warned[0].contains("this plan could not be kept"), "{}", warned[0]);
    assert_eq!(run.stderr.matches(cause).count(), 1, "{}", run.stderr);
    // Without `--keep` the book is read all the same.
    let run = place.plan(&[], EVENING);
    let unread = run.stderr.matches("warning: the test-weld book could not be read").count();
    let is_unreadable = warned[0].contains("the test-weld book could not be read");
    assert_eq!(unread, usize::from(is_unreadable), "{}", run.stderr);
    assert!(!run.stderr.contains("kept"), "{}", run.stderr);
}

#[test]
fn a_plan_that_cannot_be_kept_comes_out_with_one_warning() {
    let place = Place::new();
    fs::create_dir_all(place.home()).unwrap();
    for (content, cause) in [(&b""[..], "is empty"), (&[b'x'; 5000], "is damaged")] {
        fs::write(place.home().join("book.sqlite3"), content).unwrap();
        assert_planned_but_not_kept(&place, cause);
        assert_eq!(fs::read(place.home().join("book.sqlite3")).unwrap(), content);
    }
    fs::remove_file(place.home().join("book.sqlite3")).unwrap();
    fs::create_dir(place.home().join("book.sqlite3")).unwrap();
    assert_planned_but_not_kept(&place, "is a folder");
}

#[test]
fn a_newer_and_a_locked_book_are_told_and_the_plan_goes_on() {
    let place = Place::new();
    place.plan(&["--keep"], EVENING);
    block_on(async {
        let mut raw = raw(&place.home()).await;
        raw.execute("BEGIN IMMEDIATE").await.unwrap();
        place.change("site.toml", "minutes = 30", "minutes = 40");
        assert_planned_but_not_kept(&place, "has been in use by another program for 3 s");
        raw.execute("ROLLBACK").await.unwrap();
        let later = "INSERT INTO _sqlx_migrations SELECT 99, 'later', installed_on, 1, checksum, 0 \
                     FROM _sqlx_migrations LIMIT 1";
        raw.execute(later).await.unwrap();
        raw.close().await.unwrap();
    });
    assert_planned_but_not_kept(&place, "was written by a newer fairseam");
}
