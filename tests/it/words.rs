//! The Fluent files against each other and against the code: nothing missing, nothing unused, the
//! same variables everywhere.

mod calls;
mod files;

use std::collections::{BTreeMap, BTreeSet};

use calls::calls;
use fairseam::words::Language;
use files::{Messages, folders, messages, topics};

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
    let english = &languages["en"];
    let mut faults = Vec::new();
    for (tag, messages) in &languages {
        for (id, message) in messages {
            match english.get(id) {
                None => faults.push(format!("{tag}: `{id}` is not in en")),
                Some(same) if same.topic != message.topic => {
                    faults.push(format!(
                        "{tag}: `{id}` is in {}, not in {}",
                        message.topic, same.topic
                    ));
                }
                Some(same) if same.variables != message.variables => faults.push(format!(
                    "{tag}: `{id}` has {:?}, en has {:?}",
                    message.variables, same.variables
                )),
                Some(_) => {}
            }
        }
        let missing = english.keys().filter(|id| !messages.contains_key(*id));
        faults.extend(missing.map(|id| format!("{tag}: `{id}` is missing")));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
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

#[test]
fn every_file_is_built_in() {
    for language in Language::ALL {
        for (id, message) in messages(language.tag()) {
            let said = fairseam::words::say(language, &id, []);
            let built_in = said != format!("{{{id}}}");
            assert!(built_in, "{}: {} is not built in", language.tag(), message.topic);
        }
    }
}
