//! What every feature's tests need: the real binary in a closed room, and a site to plan.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

/// The moment at which every run takes place unless a test says otherwise: the evening before
/// the spring day of the example forecast.
pub(crate) const NOW: &str = "2013-04-08T21:30:00Z";

/// All that a user would see of one run, and the folder in which it took place.
pub(crate) struct Outcome {
    pub(crate) stdout: String,
    pub(crate) stderr: String,
    pub(crate) code: i32,
    folder: TempDir,
}

impl Outcome {
    /// Whether the run left a file of this name in its folder.
    pub(crate) fn wrote(&self, name: &str) -> bool {
        self.folder.path().join(name).exists()
    }

    /// The three results in one text, for the message of a failed check.
    pub(crate) fn shown(&self) -> String {
        format!("exit {}\n--- stdout\n{}--- stderr\n{}", self.code, self.stdout, self.stderr)
    }
}

/// Runs the real binary in a folder of its own that holds `files` (name, text).
///
/// The environment is empty but for the fixed clock, a data folder that is new each time, and
/// `env`, which may replace either.
pub(crate) fn run(args: &[&str], files: &[(&str, &str)], env: &[(&str, &str)]) -> Outcome {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        std::fs::write(folder.path().join(name), text).unwrap();
    }
    let output = Command::new(env!("CARGO_BIN_EXE_fairseam"))
        .args(args)
        .current_dir(folder.path())
        .env_clear()
        .env("FAIRSEAM_HOME", folder.path().join("home"))
        .env("FAIRSEAM_NOW", NOW)
        .envs(env.iter().copied())
        .output()
        .unwrap();
    Outcome {
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
        code: output.status.code().unwrap_or_else(|| panic!("{args:?} died of a signal")),
        folder,
    }
}

/// The full path of a file below `tests/`.
pub(crate) fn in_tests(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(name)
}

/// The full path of a fixture as an argument for the binary.
pub(crate) fn fixture(name: &str) -> String {
    in_tests("fixtures").join(name).to_str().unwrap().to_owned()
}

/// Says that a check was left out for want of a tool, where nothing captures it; with
/// `FAIRSEAM_REQUIRE_TOOLS=1` the missing tool fails the test instead.
pub(crate) fn skip(why: &str) {
    let required = std::env::var("FAIRSEAM_REQUIRE_TOOLS").is_ok_and(|value| value == "1");
    assert!(!required, "FAIRSEAM_REQUIRE_TOOLS=1 and {why}");
    let mut terminal = std::io::stderr();
    writeln!(terminal, "SKIPPED: {why}").unwrap();
}

/// The example site in metric units, as overrides of [`example_site`].
pub(crate) const METRIC: [(&str, &str); 9] = [
    ("units", "\"metric\""),
    ("sheet.thickness", "2"),
    ("welders.heat_low", "370"),
    ("welders.heat_max", "590"),
    ("welders.heat_step", "50"),
    ("welders.speed_min", "1"),
    ("welders.speed_max", "5.5"),
    ("rules.ambient_change", "5.5"),
    ("power.cord_length", "30"),
];

/// The site file that the documents show, with values put in place of its own.
///
/// An override is a key with its section and its value as TOML, such as
/// `("shift.start", "\"22:00\"")`. A key that the text lacks is added to its section; the empty
/// value takes the line out.
pub(crate) fn example_site(overrides: &[(&str, &str)]) -> String {
    let mut lines: Vec<String> = EXAMPLE_SITE.lines().map(str::to_owned).collect();
    for (path, value) in overrides {
        let (section, key) = path.rsplit_once('.').unwrap_or(("", path));
        set(&mut lines, section, key, value);
    }
    lines.join("\n") + "\n"
}

fn set(lines: &mut Vec<String>, section: &str, key: &str, value: &str) {
    let start = match section {
        "" => 0,
        _ => 1 + lines.iter().position(|line| is_header_of(line, section)).unwrap(),
    };
    let length = lines[start..].iter().take_while(|line| !line.is_empty()).count();
    let end = start + length;
    let old = (start..end).find(|&n| lines[n].split(" = ").next() == Some(key));
    let replacement = (!value.is_empty()).then(|| format!("{key} = {value}"));
    let range = old.map_or(end..end, |n| n..n + 1);
    lines.splice(range, replacement);
}

fn is_header_of(line: &str, section: &str) -> bool {
    line.starts_with('[') && line.trim_matches(['[', ']']) == section
}

/// Every section ends with an empty line or the end of the text.
const EXAMPLE_SITE: &str = r#"name = "Cold-store re-roof, east bay"
latitude_deg = 40.6925
longitude_deg = -74.1687
time_zone = "America/New_York"
units = "us"
elevation = 18

[shift]
start = "07:00"
end = "15:30"
workdays = ["mon", "tue", "wed", "thu", "fri"]
breaks = [ { name = "morning break", start = "09:30", minutes = 15 }, { name = "lunch", start = "12:00", minutes = 30 } ]

[sheet]
polymer = "pvc"
thickness = 80
color = "white"

[[welders]]
name = "automatic 1"
kind = "automatic"
heat_low = 700
heat_max = 1100
heat_step = 100
speed_min = 3
speed_max = 18
rated_watts = 5200
rated_volts = 230

[power]
generator_watts = 12000
dedicated = true
cord_gauge_awg = 10
cord_length = 100

[rules]
ambient_change = 10
break_needs_test_minutes = 10
merge_within_minutes = 20
last_test_before_end_minutes = 30
trial_minutes = 10
max_hours_between = 5

[weather]
source = "auto"
contact = "foreman@example.com"

[reminders]
before_minutes = [15, 0]
evening_before = "18:00"
"#;

#[test]
fn an_override_replaces_adds_and_removes_one_line() {
    let text = example_site(&[
        ("name", "\"Other\""),
        ("shift.start", "\"22:00\""),
        ("rules.speed_drift", "2"),
        ("welders.rated_volts", ""),
    ]);
    let expected = EXAMPLE_SITE
        .replace("Cold-store re-roof, east bay", "Other")
        .replace("start = \"07:00\"", "start = \"22:00\"")
        .replace("max_hours_between = 5\n", "max_hours_between = 5\nspeed_drift = 2\n")
        .replace("rated_volts = 230\n", "");
    assert_eq!(text, expected);
}
