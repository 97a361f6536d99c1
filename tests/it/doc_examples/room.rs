//! A folder in which everything stands that the documents take for granted.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use tempfile::TempDir;

use super::pages::{Page, pages, read};
use crate::binary::root;

/// 18:00 on the demonstration's clock, the evening before its day.
const EVENING: &str = "2027-04-20T23:00:00Z";
/// Half past eleven at the example's roof, on that day.
const ON_THE_ROOF: &str = "2027-04-21T15:30:00Z";

/// What is answered to `record`: the middle is foreseen, so Enter will do but for name and strips.
const ANSWERS: &str = "\n\nJ.\n68\n\n\n\n\n\n9\n800, 900\n1.5 f x3\n1.6 f x3\n\n\nyes\n";

/// A user's folder, and his home.
pub(crate) struct Room(TempDir);

impl Room {
    /// With roofs, a forecast, a record of past years, certificates and a trial in JSON.
    pub(crate) fn new() -> Self {
        let room = Self(tempfile::tempdir().unwrap());
        let example = read("config/example.toml");
        for folder in [".", "roofs", "sites"] {
            room.put(&format!("{folder}/roof.toml"), &example);
            room.put(&format!("{folder}/barn.toml"), &example.replace("east bay", "barn"));
            room.copy("config/demo/forecast.json", &format!("{folder}/forecast.json"));
        }
        room.put("roofs.txt", "roofs/roof.toml\nroofs/barn.toml\n");
        for name in ["config/example.toml", "config/demo/site.toml", "config/demo/forecast.json"] {
            room.copy(name, name);
        }
        room.copy("tests/fixtures/years/725300-2015.gz", "records/725300-2015.gz");
        room.copy("tests/fixtures/ewr2013.csv", "newark.csv");
        for (ours, theirs) in [("cert", "cert"), ("cert", "chain"), ("key", "key")] {
            room.copy(&format!("tests/fixtures/tls/{ours}.pem"), &format!("{theirs}.pem"));
        }
        room.put("trial.json", &example_trial(&pages()));
        for folder in [
            ".local/share/bash-completion/completions",
            ".local/share/man/man1",
            ".config/fish/completions",
            ".zfunc",
        ] {
            fs::create_dir_all(room.0.path().join(folder)).unwrap();
        }
        room.stay_at_home();
        room
    }

    fn copy(&self, from: &str, to: &str) {
        let to = self.0.path().join(to);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::copy(root().join(from), to).unwrap();
    }

    pub(crate) fn put(&self, name: &str, text: &str) {
        let path = self.0.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// No test asks a weather service: roofs go by the file of the demonstration.
    fn stay_at_home(&self) {
        for name in ["roof.toml", "barn.toml"] {
            for folder in ["", "roofs", "sites"] {
                let path = self.0.path().join(folder).join(name);
                let text = fs::read_to_string(&path).unwrap();
                let file = "source = \"file\"\npath = \"forecast.json\"";
                fs::write(path, text.replace("\nsource = \"auto\"", &format!("\n{file}"))).unwrap();
            }
        }
    }

    fn shell(&self, command: &str) -> Command {
        let binary = Path::new(env!("CARGO_BIN_EXE_fairseam")).parent().unwrap();
        let on_the_roof = [" record ", " book ", "today"].iter().any(|word| command.contains(word));
        let mut shell = Command::new("/bin/sh");
        shell
            .args(["-c", command])
            .current_dir(self.0.path())
            .env_clear()
            .env("PATH", format!("{}:/usr/bin:/bin", binary.display()))
            .env("HOME", self.0.path())
            .env("FAIRSEAM_HOME", self.0.path().join("data"))
            .env("FAIRSEAM_NOW", if on_the_roof { ON_THE_ROOF } else { EVENING });
        shell
    }

    /// Runs one line as it stands in a document.
    ///
    /// # Errors
    /// What it said, where it did not end well.
    pub(crate) fn run(&self, command: &str) -> Result<(), String> {
        if stays(command) {
            return self.run_until_stopped(command);
        }
        let mut child = self
            .shell(command)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Whoever asks nothing does not read it either.
        let _ = child.stdin.take().unwrap().write_all(ANSWERS.as_bytes());
        let output = child.wait_with_output().unwrap();
        self.stay_at_home();
        let said = [output.stdout, output.stderr].concat();
        let said = String::from_utf8_lossy(&said).into_owned();
        output.status.success().then_some(()).ok_or(said)
    }

    /// A server and a follower run until they are told to stop, and then end well.
    fn run_until_stopped(&self, command: &str) -> Result<(), String> {
        let command = without_comment(command);
        let mut words: Vec<&str> = command.split_whitespace().collect();
        if words[1] == "serve" {
            // A port that is free, and no other machine's business.
            if let Some(at) = words.iter().position(|word| *word == "--listen") {
                words.drain(at..at + 2);
            }
            words.extend(["--listen", "127.0.0.1:0"]);
        }
        let line = format!("exec {} 2>&1", words.join(" "));
        let mut child = self.shell(&line).stdout(Stdio::piped()).spawn().unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
        let mut said = Vec::new();
        let is_up = lines.by_ref().any(|line| {
            said.push(line.clone());
            line.contains("alive: ") || line.contains("serving at ")
        });
        let id = child.id().to_string();
        assert!(Command::new("kill").args(["-TERM", &id]).status().unwrap().success());
        said.extend(lines);
        let ended = child.wait().unwrap().success();
        (is_up && ended).then_some(()).ok_or_else(|| said.join("\n"))
    }
}

fn without_comment(command: &str) -> &str {
    command.split(" # ").next().unwrap_or(command)
}

fn stays(command: &str) -> bool {
    let command = without_comment(command);
    let has = |words: &[&str]| words.iter().any(|word| command.contains(word));
    command.starts_with("fairseam follow ") && !has(&["--once"])
        || command.starts_with("fairseam serve ") && !has(&["--new-key", "--list-keys", "--revoke"])
}

/// The trial that the page about recording shows.
fn example_trial(pages: &[Page]) -> String {
    let page = pages.iter().find(|page| page.name == "docs/recording.md").unwrap();
    page.fenced("json").into_iter().next().expect("docs/recording.md shows a trial in JSON")
}
