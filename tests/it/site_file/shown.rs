//! The example, the documentation and what is in force, held against the table of keys.

use fairseam::site::keys::{self, Form, KEYS, Preset, TABLES};
use fairseam::site::{Origin, reference, rules_in_force};
use fairseam::units::UnitSystem;

use super::{EXAMPLE, SHORTEST, loaded};

/// The keys that a text mentions as `key =`, in comments too, with the table they stand under.
fn mentioned(text: &str) -> Vec<String> {
    let mut table = String::new();
    let mut found = Vec::new();
    for line in text.lines().map(|line| line.trim_start_matches("# ").trim()) {
        if line.starts_with('[') {
            let list = if line.starts_with("[[") { "[]" } else { "" };
            table = format!("{}{list}", line.trim_matches(['[', ']']));
            continue;
        }
        let in_break = line.starts_with('{');
        let prefix = if in_break { "shift.breaks[]" } else { table.as_str() };
        for piece in line.trim_matches(['{', '}', ',', ' ']).split(", ") {
            if let Some((name, _)) = piece.split_once(" = ") {
                let dot = if prefix.is_empty() { "" } else { "." };
                found.push(format!("{prefix}{dot}{}", name.trim()));
            }
        }
        if table == "welders[]" {
            found.push("welders".to_owned());
        }
    }
    found
}

#[test]
fn the_example_mentions_every_key_under_its_table() {
    let mentioned = mentioned(EXAMPLE);
    for key in KEYS {
        assert!(mentioned.iter().any(|found| found == key.path), "`{}` is not shown", key.path);
    }
}

#[test]
fn the_example_shows_every_default_as_it_is() {
    // Everything that has a default is put back to it by leaving it out; nothing may change.
    let example = loaded(EXAMPLE).site;
    let shortest = loaded(SHORTEST).site;
    assert_eq!(example.rules, shortest.rules);
    assert_eq!(example.reminders, shortest.reminders);
    assert_eq!(example.units, shortest.units);
    assert_eq!(example.shift.workdays, shortest.shift.workdays);
    assert_eq!(example.sheet.optics, shortest.sheet.optics);
    assert_eq!(example.weather.source, shortest.weather.source);
    assert_eq!(example.weather.non_commercial, shortest.weather.non_commercial);
    let (one, other) = (&example.welders[0], &shortest.welders[0]);
    assert_eq!((one.heat_low, one.heat_max), (other.heat_low, other.heat_max));
    assert_eq!((one.heat_step, one.speed), (other.heat_step, other.speed));
}

#[test]
fn a_key_that_the_example_leaves_unset_can_be_set_as_shown() {
    let commented: Vec<_> = EXAMPLE
        .lines()
        .filter_map(|line| line.strip_prefix("# "))
        .filter(|line| line.split_once(" = ").is_some_and(|(name, _)| !name.contains(' ')))
        .collect();
    assert_eq!(commented.len(), 18, "{commented:?}");
    for line in commented {
        let mut text = EXAMPLE.replacen(&format!("# {line}"), line, 1);
        if line.starts_with("cord_mm2") {
            text = text.replacen("cord_gauge_awg = 10\n", "", 1);
        }
        loaded(&text);
    }
}

#[test]
fn origins_tell_the_line_of_every_key_of_the_file() {
    let loaded = loaded(EXAMPLE);
    let lines: Vec<_> = EXAMPLE.lines().collect();
    let mut from_file = 0;
    for (key, origin) in loaded.origins.iter() {
        let Origin::File { line } = origin else { continue };
        let name = key.rsplit('.').next().unwrap();
        assert!(
            lines[line - 1].contains(&format!("{name} =")) || key == "welders",
            "{key}: {}",
            lines[line - 1]
        );
        from_file += 1;
    }
    // Everything but the eighteen keys that the example leaves unset; there are two breaks.
    assert_eq!(from_file, KEYS.len() - 18 + 3);
}

#[test]
fn what_is_in_force_fits_a_terminal_and_hides_the_secret() {
    let long = "a very long name of a site ".repeat(7);
    let text = EXAMPLE
        .replace("Cold-store re-roof, east bay", &long)
        .replace("foreman@example.com", &format!("https://example.com/{}", "x".repeat(120)))
        .replace("# api_key = \"0123456789\"", "api_key = \"0123456789\"")
        .replace("automatic 1", "\\u001b[2J\\nautomatic");
    let shown = rules_in_force(&loaded(&text));
    for line in shown.lines() {
        assert!(line.chars().count() <= 80, "{line}");
        assert!(!line.contains(char::is_control), "{line:?}");
    }
    assert!(!shown.contains("0123456789"));
    assert!(shown.lines().any(|line| line.contains("api_key") && line.contains("***")));
    for table in ["[shift]", "shift.breaks[2]", "[sheet]", "welders[1]", "[rules]", "[reminders]"] {
        assert!(shown.lines().any(|line| line == table), "{table}\n{shown}");
    }
    let row = |name: &str| {
        let found = shown.lines().find(|line| line.trim_start().starts_with(name)).unwrap();
        found.split_whitespace().map(str::to_owned).collect::<Vec<_>>().join(" ")
    };
    assert_eq!(row("ambient_change"), "ambient_change 10 °F apart file");
    assert_eq!(row("path"), "path none default");
    assert_eq!(row("latitude_deg"), "latitude_deg 40.6925° file");
}

#[test]
fn the_documentation_is_what_the_table_of_keys_says() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/site-file.md");
    let expected = reference();
    if std::env::var_os("FAIRSEAM_BLESS").is_some() {
        std::fs::write(path, &expected).unwrap();
    }
    let kept = std::fs::read_to_string(path).unwrap_or_default();
    assert!(kept == expected, "docs/site-file.md is stale: run with FAIRSEAM_BLESS=1");
}

#[test]
fn every_key_stands_in_a_table_once_and_its_default_is_allowed() {
    for (index, key) in KEYS.iter().enumerate() {
        assert!(TABLES.iter().any(|table| table.path == key.table()), "{}", key.path);
        assert!(KEYS[..index].iter().all(|other| other.path != key.path), "{}", key.path);
        assert_eq!(keys::find(key.path), Some(key));
        match (key.form, key.preset) {
            (Form::Number(_, allowed), Preset::Number { us, metric }) => {
                assert!(allowed.holds(us, UnitSystem::Us), "{}", key.path);
                assert!(allowed.holds(metric, UnitSystem::Metric), "{}", key.path);
            }
            (Form::Whole(_, low, high), Preset::Whole(whole)) => {
                assert!((low..=high).contains(&whole), "{}", key.path);
            }
            (Form::Choice(words), Preset::Word(word)) => {
                assert!(words.contains(&word), "{}", key.path);
            }
            (form, preset) => assert!(
                !matches!(preset, Preset::Number { .. } | Preset::Whole(_)),
                "{}: {form:?} with {preset:?}",
                key.path
            ),
        }
    }
}
