//! The crew's page in a real browser against the real server, driven as a crew would use it; what was
//! written down is read from the book afterwards.
//!
//! `tests/browser/drive.mjs` holds the phones; Chromium, Node.js and the two packages of
//! `tests/browser/package.json` in `target/browser` are what it needs.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use serde_json::{Value, json};

use super::support::{in_tests, skip};
use crate::proof::{Allowed, Proof};

/// Ten minutes before the first test of the demonstration's day.
const NOW: &str = "2027-04-21T12:40:00Z";

struct Served {
    child: Child,
    port: u16,
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn fairseam(home: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fairseam"));
    command.env_clear().env("FAIRSEAM_HOME", home.join("home")).env("FAIRSEAM_NOW", NOW);
    command.current_dir(home);
    command
}

/// The secret behind the `#` of the link that the server prints once.
fn new_key(home: &Path, arguments: &[&str]) -> String {
    let output = fairseam(home).arg("serve").arg("--new-key").args(arguments).output().unwrap();
    let printed = String::from_utf8(output.stdout).unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    printed.trim().split_once('#').unwrap_or_else(|| panic!("{printed}{said}")).1.to_owned()
}

fn serve(home: &Path) -> Served {
    let mut child = fairseam(home)
        .args(["serve", "site.toml", "--listen", "127.0.0.1:0"])
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut log = BufReader::new(child.stderr.take().unwrap());
    let mut first = String::new();
    log.read_line(&mut first).unwrap();
    let port = first.split("127.0.0.1:").nth(1).and_then(|rest| {
        rest.chars().take_while(char::is_ascii_digit).collect::<String>().parse().ok()
    });
    let port = port.unwrap_or_else(|| panic!("no port in {first:?}"));
    // Read on, or the server would stand still when the pipe is full.
    std::thread::spawn(move || std::io::copy(&mut log, &mut std::io::sink()));
    Served { child, port }
}

fn chromium() -> Option<String> {
    let named = std::env::var("FAIRSEAM_CHROMIUM").ok();
    let known = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].map(str::to_owned);
    named.into_iter().chain(known).find(|path| Path::new(path).exists())
}

#[test]
fn a_crew_records_its_test_welds_with_and_without_signal() {
    let mut proof = Proof::of(
        "files/browser",
        "Test welds tapped into the crew's page in Chromium, with and without signal, then read from the \
         book: each once, by whom, with which setting; the pages without a fault by the checker axe-core",
        "what was tapped, the settings by hand",
        "trials",
        Allowed::Nothing,
    )
    .when_installed(5);
    let modules = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/browser");
    if !modules.join("node_modules/playwright-core").exists()
        || !modules.join("node_modules/axe-core").exists()
    {
        skip("tests/browser/package.json is not installed in target/browser");
        return proof.done();
    }
    let Some(chromium) = chromium() else {
        skip("Chromium is not installed");
        return proof.done();
    };
    if Command::new("node").arg("--version").output().is_err() {
        skip("Node.js is not installed");
        return proof.done();
    }
    let home = tempfile::tempdir().unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("config/demo");
    for name in ["site.toml", "forecast.json"] {
        std::fs::copy(demo.join(name), home.path().join(name)).unwrap();
    }
    let crew = new_key(home.path(), &["site.toml", "--for", "crew", "--holder", "Crew A"]);
    let office = new_key(home.path(), &["--for", "office", "--holder", "Office"]);
    let served = serve(home.path());
    let shots = modules.join("shots");
    std::fs::create_dir_all(&shots).unwrap();
    let told = json!({
        "port": served.port,
        "modules": modules,
        "chromium": chromium,
        "crew": crew,
        "office": office,
        "shots": shots,
    });
    driven(&told);
    drop(served);
    let book = read_book(home.path());
    each_trial_stands_in_the_book_once(&mut proof, &book);
    proof.done();
}

fn driven(told: &Value) {
    let script: PathBuf = in_tests("browser/drive.mjs");
    let mut child = Command::new("node")
        .arg(script)
        .arg(told.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let (mut said, mut fault) = (String::new(), String::new());
    child.stdout.take().unwrap().read_to_string(&mut said).unwrap();
    child.stderr.take().unwrap().read_to_string(&mut fault).unwrap();
    let ended = child.wait().unwrap();
    assert!(ended.success() && said.trim() == "done", "{said}\n{fault}");
}

fn read_book(home: &Path) -> Value {
    let output = fairseam(home).args(["book", "site.toml", "--format", "json"]).output().unwrap();
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Five trials were written down on phones: one tapped twice, one sent twice since its first answer was
/// lost, two at once, one refused and mended; and one was refused and thrown away.
fn each_trial_stands_in_the_book_once(proof: &mut Proof, book: &Value) {
    let trials = book["trials"].as_array().unwrap();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let mut found: Vec<(String, f64, String, f64)> = trials
        .iter()
        .map(|kept| {
            let trial = &kept["judged"]["trial"];
            let heat = kept["judged"]["setting"]["heat"].as_f64().unwrap();
            let air = trial["air"].as_f64().unwrap();
            (text(&trial["welder"]), heat, text(&trial["who"]), air)
        })
        .collect();
    found.sort_by(|one, other| one.partial_cmp(other).unwrap());
    let row =
        |welder: &str, heat: f64, air: f64| (welder.to_owned(), heat, "Crew A".to_owned(), air);
    // The settings by hand: the middle of 800 and 1000 °F, of 800 and 900, of 700 and 800.
    let tapped = [
        row("automatic 1", 800.0, 66.0),
        row("automatic 1", 850.0, 61.0),
        row("automatic 1", 900.0, 58.0),
        row("detail gun", 750.0, 64.0),
        row("detail gun", 750.0, 64.0),
    ];
    assert_eq!(found.len(), tapped.len(), "{found:?}");
    for (found, tapped) in found.iter().zip(&tapped) {
        proof.same(found, tapped, String::new);
    }
    let first =
        trials.iter().find(|kept| kept["judged"]["trial"]["air"].as_f64() == Some(58.0)).unwrap();
    assert_eq!(first["judged"]["trial"]["checkpoint"], "after-hold-1");
    assert_eq!(first["judged"]["trial"]["heats"].as_array().unwrap().len(), 6);
}
