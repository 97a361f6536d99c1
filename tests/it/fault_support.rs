//! A folder with a site, its forecast and a data folder, in which the real binary runs and fails.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::Duration;

use tempfile::TempDir;

use crate::binary::root;

/// 18:00 on the demonstration's clock, the evening before its day.
pub(crate) const EVENING: &str = "2027-04-20T23:00:00Z";
/// The day that is planned.
pub(crate) const DAY: &str = "2027-04-21";

/// Which weather the forecast file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weather {
    /// As in the demonstration.
    Demo,
    /// The same without a drop of rain, hence without its holds.
    Dry,
}

pub(crate) struct Place(TempDir);

impl Place {
    pub(crate) fn new() -> Self {
        let place = Self(tempfile::tempdir().unwrap());
        let site = fs::read_to_string(root().join("config/demo/site.toml")).unwrap();
        let site = site.replacen("\nname = ", "\nid = \"roof\"\nname = ", 1);
        fs::write(place.path("site.toml"), site + "\n[publish]\nics = \"crew.ics\"\n").unwrap();
        fs::create_dir(place.home()).unwrap();
        place.weather(Weather::Demo);
        place
    }

    pub(crate) fn weather(&self, weather: Weather) {
        let text = fs::read_to_string(root().join("config/demo/forecast.json")).unwrap();
        let mut json: serde_json::Value = serde_json::from_str(&text).unwrap();
        if weather == Weather::Dry {
            for value in json["hourly"]["precipitation"].as_array_mut().unwrap() {
                *value = 0.0.into();
            }
        }
        fs::write(self.path("forecast.json"), json.to_string()).unwrap();
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(crate) fn home(&self) -> PathBuf {
        self.path("home")
    }

    pub(crate) fn read(&self, name: &str) -> Option<Vec<u8>> {
        fs::read(self.path(name)).ok()
    }

    /// The binary, with nothing around it but its clock and its data folder.
    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_fairseam"));
        command.args(arguments);
        self.around(&mut command);
        command
    }

    /// The binary as the shell starts it: after `before`, with the redirections `streams`.
    pub(crate) fn shell(&self, before: &str, streams: &str, arguments: &[&str]) -> Command {
        let mut command = Command::new("sh");
        let line = format!("{before}; exec \"$0\" \"$@\" {streams}");
        command.args(["-c", &line]).arg(env!("CARGO_BIN_EXE_fairseam")).args(arguments);
        self.around(&mut command);
        command
    }

    fn around(&self, command: &mut Command) {
        command
            .current_dir(self.0.path())
            .env_clear()
            .env("PATH", std::env::var_os("PATH").unwrap_or_default())
            .env("FAIRSEAM_HOME", self.home())
            .env("FAIRSEAM_NOW", EVENING);
    }

    /// Runs it with nothing in its way and sees to it that it works.
    pub(crate) fn works(&self, arguments: &[&str]) -> String {
        let said = Said::of(&self.command(arguments).output().unwrap());
        assert_eq!(said.code, Some(0), "{arguments:?}: {}{}", said.out, said.err);
        said.out
    }

    /// Every file of ours that should not outlive a run.
    pub(crate) fn litter(&self) -> Vec<PathBuf> {
        let folders = [self.0.path().to_owned(), self.home(), self.home().join("published")];
        let entries = folders.iter().filter_map(|folder| fs::read_dir(folder).ok()).flatten();
        let paths = entries.map(|entry| entry.unwrap().path());
        paths.filter(|path| name(path).starts_with(".fairseam-")).collect()
    }

    /// All files by their paths, to be put back with [`Self::put_back`].
    pub(crate) fn snapshot(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut files = Vec::new();
        let mut folders = vec![self.0.path().to_owned()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    files.push((path.clone(), fs::read(path).unwrap()));
                }
            }
        }
        files
    }

    pub(crate) fn put_back(&self, snapshot: &[(PathBuf, Vec<u8>)]) {
        for (path, _) in self.snapshot() {
            fs::remove_file(path).unwrap();
        }
        for (path, bytes) in snapshot {
            fs::write(path, bytes).unwrap();
        }
    }

    /// Checks the book's chain and gives the number of its entries.
    pub(crate) fn book_entries(&self) -> u64 {
        let said = self.works(&["book", "site.toml", "--verify"]);
        if said.starts_with("the book has no entry yet") {
            return 0;
        }
        let count = said.strip_prefix("the book is whole: ").unwrap_or_else(|| panic!("{said}"));
        count.split(' ').next().unwrap().parse().unwrap()
    }
}

fn name(path: &Path) -> &str {
    path.file_name().and_then(OsStr::to_str).unwrap()
}

/// What came of a run.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Said {
    pub(crate) fn of(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        Self { code: output.status.code(), out: text(&output.stdout), err: text(&output.stderr) }
    }

    /// It did its work, or said in one sentence why not; it never broke down.
    pub(crate) fn is_orderly(&self, what: &str) {
        assert!(matches!(self.code, Some(0 | 1)), "{what}: {self:?}");
        assert!(!self.err.contains("panicked"), "{what}: {}", self.err);
        let errors = self.err.lines().filter(|line| line.starts_with("error: ")).count();
        assert_eq!(errors, usize::from(self.code == Some(1)), "{what}: {}", self.err);
    }
}

/// What is typed to plan the day with both of its files.
pub(crate) const PLAN: &[&str] =
    &["plan", "site.toml", "--date", DAY, "--ics", "day.ics", "--html", "day.html"];
pub(crate) const FOLLOW: &[&str] = &["follow", "site.toml", "--once"];
pub(crate) const OUTLOOK: &[&str] = &["outlook", "site.toml", "--html", "outlook.html"];
/// `record`, the site file, and a trial of three heats on the day before.
pub(crate) const RECORD: &[&str] = &[
    "record",
    "site.toml",
    "--welder",
    "automatic 1",
    "--who",
    "M.",
    "--air",
    "44",
    "--speed",
    "6",
    "--at",
    "07:10",
    "--heat",
    "700",
    "--strips",
    "0.2 cold x3",
    "--heat",
    "800",
    "--strips",
    "1.5 film-tear x3",
    "--heat",
    "900",
    "--strips",
    "1.6 film-tear x3",
];

/// Numbers that look like chance and are the same in every run. Marsaglia's xorshift with 13, 7, 17.
#[derive(Debug)]
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % limit.max(1)
    }

    pub(crate) fn moment(&mut self, within: Duration) -> Duration {
        Duration::from_micros(self.below(u64::try_from(within.as_micros()).unwrap()))
    }
}

/// Aims at moments before the end of something whose length is known from what came of it so far,
/// however busy the machine is: four of five shots come before the end.
#[derive(Debug)]
pub(crate) struct Aim(Duration);

impl Aim {
    pub(crate) fn within(span: Duration) -> Self {
        Self(span)
    }

    pub(crate) fn moment(&self, chance: &mut Chance) -> Duration {
        chance.moment(self.0)
    }

    pub(crate) fn learn(&mut self, was_over: bool) {
        // 0.2 · ln 0.8 + 0.8 · ln 1.06 is nearly nothing.
        self.0 = self.0.mul_f64(if was_over { 0.8 } else { 1.06 });
    }
}

/// Whether a long run is wanted: `FAIRSEAM_LONG=1`.
pub(crate) fn is_long() -> bool {
    std::env::var("FAIRSEAM_LONG").is_ok_and(|value| value == "1")
}
