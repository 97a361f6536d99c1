//! The Fluent files against each other and against the code: nothing missing, nothing unused, the
//! same variables everywhere.

mod calls;
mod files;
pub(crate) mod vocabulary;

use std::collections::{BTreeMap, BTreeSet};

use calls::calls;
use fairseam::words::{Language, Value, say};
use files::{Messages, folders, messages, parse, topics};

/// A language by its folder's name.
fn each_language() -> BTreeMap<String, Messages> {
    Language::ALL
        .iter()
        .map(|language| (language.tag().to_owned(), messages(language.tag())))
        .collect()
}

#[test]
fn a_folder_is_a_language_and_holds_every_topic() {
    let tags: BTreeSet<String> = Language::ALL.iter().map(|l| l.tag().to_owned()).collect();
    assert_eq!(folders(), tags, "the folders under src/words against the languages of `Language`");
    let english = topics("en");
    assert!(!english.is_empty());
    for tag in &tags {
        assert_eq!(topics(tag), english, "the files of {tag} against those of en");
    }
}

#[test]
fn every_language_says_everything_with_the_same_variables() {
    let languages = each_language();
    let faults =
        languages.iter().flat_map(|(tag, other)| differences(&languages["en"], tag, other));
    let faults: Vec<String> = faults.collect();
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// What a language says otherwise than English does, or not at all.
fn differences(english: &Messages, tag: &str, other: &Messages) -> Vec<String> {
    let mut faults = Vec::new();
    for (id, message) in other {
        match english.get(id) {
            None => faults.push(format!("{tag}: `{id}` is not in en")),
            Some(same) if same.topic != message.topic => {
                faults
                    .push(format!("{tag}: `{id}` is in {}, not in {}", message.topic, same.topic));
            }
            Some(same) if same.variables != message.variables => faults.push(format!(
                "{tag}: `{id}` has {:?}, en has {:?}",
                message.variables, same.variables
            )),
            Some(_) => {}
        }
    }
    let missing = english.keys().filter(|id| !other.contains_key(*id));
    faults.extend(missing.map(|id| format!("{tag}: `{id}` is missing")));
    faults
}

/// A pair of files with every fault that the check above has to find.
#[test]
fn a_faulty_translation_is_found() {
    let file = |topic: &str, text: &str| (topic.to_owned(), text.to_owned());
    let english = "up = air up { $by }\nrain = rain\ndry = dry { $at }\nboth = { up } { rain }\n";
    let english = parse("en", &[file("plan.ftl", english)]);
    assert_eq!(english["both"].variables.iter().collect::<Vec<_>>(), ["by"]);
    let spanish = "up = el aire subió { $from }\ndry = seco { $at }\nboth = { up }\nnew = nuevo\n";
    let spanish = [file("plan.ftl", spanish), file("page.ftl", "rain = lluvia\n")];
    let faults = differences(&english, "es", &parse("es", &spanish)).join("\n");
    for fault in
        ["`new` is not in en", "`rain` is in page.ftl", "`up` has {\"from\"}", "`both` has"]
    {
        assert!(faults.contains(fault), "{fault} was not found:\n{faults}");
    }
    assert!(!faults.contains("`dry`"), "{faults}");
    let lacking = differences(&english, "es", &parse("es", &spanish[..1]));
    assert!(lacking.contains(&"es: `rain` is missing".to_owned()), "{lacking:?}");
    for broken in ["up = { $by\n", "up = a\nup = b\n", "up = { gone }\n", "no message\n"] {
        let read = std::panic::catch_unwind(|| parse("es", &[file("plan.ftl", broken)]));
        assert!(read.is_err(), "{broken:?} was taken");
    }
}

#[test]
fn what_the_code_says_is_in_the_files_with_those_variables() {
    let languages = each_language();
    let english = &languages["en"];
    let calls = calls();
    assert!(!calls.is_empty(), "no `tell!` found in src: does the search still work?");
    let mut faults = Vec::new();
    for call in &calls {
        match english.get(&call.id) {
            None => faults.push(format!("{}: `{}` is in no file", call.file, call.id)),
            Some(message) if message.variables != call.variables => faults.push(format!(
                "{}: `{}` is given {:?}, its message has {:?}",
                call.file, call.id, call.variables, message.variables
            )),
            Some(_) => {}
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn no_message_is_unused() {
    let said: BTreeSet<String> = calls().into_iter().map(|call| call.id).collect();
    for (tag, messages) in each_language() {
        let inside = messages.values().flat_map(|message| &message.references);
        let used: BTreeSet<&String> = said.iter().chain(inside).collect();
        let unused: Vec<&String> = messages.keys().filter(|id| !used.contains(id)).collect();
        assert!(unused.is_empty(), "{tag}: nobody says {unused:?}");
    }
}

/// With a text for every variable each message can be said: nothing is left in braces, no mark of
/// the isolation of variables is in it, and every variable comes through where it does not choose.
#[test]
fn every_message_can_be_said() {
    for language in Language::ALL {
        for (id, message) in messages(language.tag()) {
            if id.starts_with('-') {
                continue;
            }
            let given = message.variables.iter().map(|name| (name.as_str(), Value::from("‹?›")));
            let said = say(language, &id, given);
            let (tag, topic) = (language.tag(), &message.topic);
            assert!(!said.contains(['{', '}']), "{tag}/{topic}: `{id}` says {said:?}");
            assert!(!said.contains(['\u{2068}', '\u{2069}', '\n']), "{tag}: `{id}`: {said:?}");
            assert_eq!(said, said.trim(), "{tag}: `{id}` has blanks at its ends");
            let shown = said.matches("‹?›").count();
            let plain = message.variables.difference(&message.selectors).count();
            assert!(plain <= shown, "{tag}: `{id}` leaves a variable out: {said:?}");
        }
    }
}

/// What a file does not have is said in English, and what no file has is no reason to fall over.
#[test]
fn a_message_that_nobody_has_stands_in_braces() {
    assert_eq!(say(Language::Es, "no-such-message", []), "{no-such-message}");
}
