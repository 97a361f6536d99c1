//! Every example of README, the documents and the commands' own help is run as it stands there, and
//! whatever a user would copy into a file is read.
#![cfg(unix)]

mod pages;
mod paths;
mod room;

use std::collections::BTreeSet;

use toml::Table;

use crate::binary::{fairseam, root};
use pages::{commands, pages, read};
use room::Room;

/// What is not run, by its beginning, and why.
const NOT_RUN: &[(&str, &str)] = &[
    ("cargo ", "the build that is being tested; CI runs these"),
    ("FAIRSEAM_BLESS=1 ", "as above"),
    ("FAIRSEAM_PYTHON=", "as above, with the readers that CI installs"),
    ("bash .ci/run", "runs this test"),
    ("git ", "the clone is there; what is made of it is the reader's own"),
    ("cd ", "each line is run by itself, in the folder of its page"),
    ("python3 -m venv ", "fetches packages; CI does it"),
    ("target/venv/bin/pip ", "as above"),
    ("target/bench-venv/bin/", "fetches packages, and takes minutes"),
    ("config/package/static-binary", "a release build; its result is compared by hand"),
    ("man ", "a program that not every machine has"),
    ("fairseam outlook roof.toml --years 2005..2024", "asks an archive"),
    ("sudo ", "changes the machine"),
];

/// Fences that are read and not run.
const FOR_READING: &[&str] = &["text", "ftl", "rust", "diff"];

fn run_all(room: &Room, commands: &[String]) -> Vec<String> {
    let mut faults = Vec::new();
    for command in commands {
        if NOT_RUN.iter().any(|(start, _)| command.starts_with(start)) {
            continue;
        }
        if let Err(said) = room.run(command) {
            faults.push(format!("$ {command}\n{said}"));
        }
    }
    faults
}

fn page_commands(page: &pages::Page) -> Vec<String> {
    let blocks = page.fenced("sh").into_iter();
    // The same binary, built already.
    let as_installed = |line: String| {
        line.replace("cargo run --release -- ", "fairseam ").replace("cargo run -- ", "fairseam ")
    };
    blocks.flat_map(|block| commands(&block)).map(as_installed).collect()
}

#[test]
fn every_command_in_the_documents_works_as_it_stands() {
    let mut faults = Vec::new();
    let mut count = 0;
    for page in pages() {
        let commands = page_commands(&page);
        if commands.iter().any(|command| command.starts_with("fairseam ")) {
            count += commands.len();
            let said = run_all(&Room::new(), &commands);
            faults.extend(said.into_iter().map(|said| format!("{}: {said}", page.name)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(count > 25, "only {count} commands found: does the search still work?");
}

/// The examples at the end of a command's help; a line that was wrapped goes on.
fn help_examples(command: &str) -> Vec<String> {
    let help = fairseam(&[command, "--help"], "2027-04-20T23:00:00Z").stdout;
    let mut examples: Vec<String> = Vec::new();
    let Some((_, block)) = help.split_once("\nExamples:\n") else { return examples };
    for line in block.lines().take_while(|line| !line.is_empty()).map(str::trim) {
        match examples.last_mut() {
            Some(last) if !line.starts_with("fairseam ") => {
                *last = format!("{} {line}", last.trim_end_matches('\\').trim_end());
            }
            _ => examples.push(line.to_owned()),
        }
    }
    examples
}

fn subcommands() -> Vec<String> {
    let help = fairseam(&["--help"], "2027-04-20T23:00:00Z").stdout;
    let (_, rest) = help.split_once("\nCommands:\n").unwrap();
    let (list, _) = rest.split_once("\nOptions:\n").unwrap();
    // What goes on from the line before is set in further.
    let named = list.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    named
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .filter(|name| name != "help")
        .collect()
}

#[test]
fn every_example_of_the_help_works_as_it_stands() {
    let mut faults = Vec::new();
    // One folder for all: `book` reads what `record` wrote down.
    let room = Room::new();
    for name in subcommands() {
        let examples: Vec<String> = help_examples(&name)
            .into_iter()
            // `man` is a program that not every machine has.
            .map(|line| line.split(" && man ").next().unwrap().to_owned())
            .collect();
        assert!(!examples.is_empty(), "`{name} --help` shows no example");
        let said = run_all(&room, &examples);
        faults.extend(said.into_iter().map(|said| format!("{name}: {said}")));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn what_is_not_run_is_there() {
    let mut all: Vec<String> = pages().iter().flat_map(page_commands).collect();
    all.extend(subcommands().iter().flat_map(|name| help_examples(name)));
    for (start, why) in NOT_RUN {
        let found = all.iter().any(|command| command.starts_with(start));
        assert!(found, "no document says `{start}…` any more ({why}): take it out of the list");
    }
}

#[test]
fn every_fence_is_looked_at() {
    for page in pages() {
        for fence in page.fences() {
            let language = fence.language.as_str();
            let known = ["sh", "toml", "json", "jsonl"].contains(&language)
                || FOR_READING.contains(&language);
            assert!(known, "{}: a fence in `{language}`, which nothing looks at", page.name);
        }
        // A command in an indented block would be run by nobody.
        let stray = page.text.lines().find(|line| line.starts_with("    fairseam "));
        assert_eq!(stray, None, "{}: use a fence in `sh`", page.name);
    }
}

/// The example with the tables and the first keys of a snippet in place of its own.
fn example_with(snippet: &str) -> Result<String, toml::de::Error> {
    let given: Table = snippet.parse()?;
    let is_given = |key: &str| given.contains_key(key.trim());
    let mut header = String::new();
    let mut kept = String::new();
    for line in read("config/example.toml").lines() {
        if line.starts_with('[') {
            line.trim_matches(['[', ']']).clone_into(&mut header);
        }
        let is_first_key =
            header.is_empty() && line.split_once('=').is_some_and(|(k, _)| is_given(k));
        if !is_first_key && (header.is_empty() || !is_given(&header)) {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    let tables =
        if snippet.starts_with('[') { 0 } else { snippet.find("\n[").unwrap_or(snippet.len()) };
    let (first, tables) = snippet.split_at(tables);
    Ok(format!("{first}\n{kept}\n{tables}"))
}

#[test]
fn what_a_reader_would_copy_into_a_site_file_is_taken() {
    let room = Room::new();
    let mut count = 0;
    for page in pages() {
        for snippet in page.fenced("toml") {
            let site = example_with(&snippet).unwrap_or_else(|e| panic!("{}: {e}", page.name));
            room.put("copied.toml", &site);
            let said = room.run("fairseam check --offline copied.toml").err().unwrap_or_default();
            let sound = said.is_empty() || said.contains("the site file is sound");
            assert!(sound, "{}: {snippet}\n{said}", page.name);
            count += 1;
        }
    }
    assert!(count >= 2, "only {count} found");
}

#[test]
fn json_in_the_documents_is_json_and_comes_in() {
    let room = Room::new();
    let mut count = 0;
    for page in pages() {
        for text in page.fenced("json") {
            let parsed: Result<serde_json::Value, _> = serde_json::from_str(&text);
            assert!(parsed.is_ok(), "{}: {parsed:?}", page.name);
        }
        for text in page.fenced("jsonl") {
            room.put("shown.jsonl", &text);
            room.run("fairseam book roof.toml --import shown.jsonl").unwrap();
            count += 1;
        }
    }
    assert_eq!(count, 1, "the export that docs/book.md shows");
    room.run("fairseam record roof.toml --json --dry-run < trial.json").unwrap();
}

#[test]
fn a_service_starts_what_its_unit_says() {
    let mut units: Vec<String> = pages().iter().flat_map(|page| page.fenced("ini")).collect();
    for entry in std::fs::read_dir(root().join("config/systemd")).unwrap() {
        units.push(std::fs::read_to_string(entry.unwrap().path()).unwrap());
    }
    let room = Room::new();
    let mut started = BTreeSet::new();
    for unit in units {
        let line = unit.lines().find_map(|line| line.strip_prefix("ExecStart=")).unwrap();
        let line = line.replace("/usr/local/bin/", "").replace("/etc/fairseam/", "");
        room.run(&line).unwrap_or_else(|said| panic!("{line}\n{said}"));
        started.insert(line.split_whitespace().nth(1).unwrap().to_owned());
    }
    assert_eq!(started, BTreeSet::from(["follow".to_owned(), "serve".to_owned()]));
}
