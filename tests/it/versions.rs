//! What users and other programs rely on: files of an earlier version load, and what is printed
//! today is still what an earlier reader expects. `tests/fixtures/versions/<n>` holds the shapes as
//! they were when version `n` began; nothing there is ever rewritten.

use std::fs;
use std::path::PathBuf;

use serde_json::Value;

use crate::binary::{fairseam, root};

const NOW: &str = "2027-04-20T23:00:00Z";

/// The folder of each version that the program still speaks.
fn versions() -> Vec<PathBuf> {
    let folder = root().join("tests/fixtures/versions");
    let mut versions: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    versions.sort();
    assert!(!versions.is_empty());
    versions
}

fn parsed(path: &PathBuf) -> Value {
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

#[test]
fn a_site_file_of_an_earlier_version_says_what_it_said() {
    for version in versions() {
        let demo = version.join("demo.toml");
        let run = fairseam(&["check", demo.to_str().unwrap()], NOW);
        assert_eq!(run.code, 0, "{}", run.stderr);
        // Two lines that the file sets, and one that it leaves to a rule of the contract.
        for said in ["Prairie grain store, roof B", "1150 °F", "10 °F apart"] {
            assert!(run.stdout.contains(said), "{said} in\n{}", run.stdout);
        }
        let example = version.join("example.toml");
        let run = fairseam(&["check", "--offline", example.to_str().unwrap()], NOW);
        // Sound, but nothing is fetched in a test.
        assert!(run.stderr.contains("the site file is sound"), "{}", run.stderr);
    }
}

#[test]
fn a_reader_of_an_earlier_version_reads_the_plan_of_today() {
    for version in versions() {
        let demo = version.join("demo.toml");
        let arguments =
            ["plan", demo.to_str().unwrap(), "--date", "2027-04-21", "--format", "json"];
        let run = fairseam(&arguments, NOW);
        assert_eq!(run.code, 0, "{}", run.stderr);
        let plan: Value = serde_json::from_str(&run.stdout).unwrap();
        let number = version.file_name().unwrap().to_str().unwrap();
        assert_eq!(plan["fairseam"].to_string(), number, "each version has its folder");
        let schema = parsed(&version.join("plan.schema.json"));
        let validator = jsonschema::validator_for(&schema).unwrap();
        let faults: Vec<String> =
            validator.iter_errors(&plan).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }
}

/// Every property that `then` promises and `now` no longer keeps, by its path.
fn broken(then: &Value, now: &Value, path: &str, faults: &mut Vec<String>) {
    for word in ["type", "$ref", "enum", "const", "format"] {
        let kept = match (then.get(word), now.get(word)) {
            (None, _) => true,
            // A list of words may grow; none of them goes.
            (Some(Value::Array(then)), Some(Value::Array(now))) => {
                then.iter().all(|one| now.contains(one))
            }
            (then, now) => then == now,
        };
        if !kept {
            faults.push(format!("{path}: `{word}` was {:?} and is {:?}", then[word], now[word]));
        }
    }
    for part in ["properties", "$defs"] {
        let Some(Value::Object(named)) = then.get(part) else { continue };
        for (name, old) in named {
            match now.get(part).and_then(|now| now.get(name)) {
                Some(new) => broken(old, new, &format!("{path}/{name}"), faults),
                None => faults.push(format!("{path}/{name} is gone")),
            }
        }
    }
    if let Some(items) = then.get("items") {
        broken(items, &now["items"], &format!("{path}[]"), faults);
    }
    // What was always there must always be there.
    if let Some(Value::Array(required)) = then.get("required") {
        for name in required {
            if !now["required"].as_array().is_some_and(|now| now.contains(name)) {
                faults.push(format!("{path}: {name} was always there and may now be missing"));
            }
        }
    }
}

#[test]
fn a_schema_grows_and_takes_nothing_away() {
    let mut compared = 0;
    for version in versions() {
        for entry in fs::read_dir(&version).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            if !name.ends_with(".schema.json") {
                continue;
            }
            let mut faults = Vec::new();
            let now = parsed(&root().join("docs").join(&name));
            broken(&parsed(&path), &now, &name, &mut faults);
            assert!(
                faults.is_empty(),
                "readers of this version would break; add instead, or raise the version:\n{}",
                faults.join("\n")
            );
            compared += 1;
        }
    }
    assert!(compared >= 5, "{compared}");
}

#[test]
fn the_comparison_of_schemas_sees_what_breaks_a_reader() {
    let then = serde_json::json!({
        "properties": {"air": {"type": "number"}, "cause": {"enum": ["start"]}},
        "required": ["air"],
    });
    let cases = [
        (serde_json::json!({"properties": {"cause": {"enum": ["start"]}}, "required": []}), 2),
        (
            serde_json::json!({"properties": {"air": {"type": "string"},
                "cause": {"enum": ["start", "new"]}}, "required": ["air", "new"]}),
            1,
        ),
        (then.clone(), 0),
    ];
    for (now, expected) in cases {
        let mut faults = Vec::new();
        broken(&then, &now, "", &mut faults);
        assert_eq!(faults.len(), expected, "{faults:?}");
    }
}
