//! The Fluent files as the Fluent parser reads them.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use fluent_syntax::ast::{
    CallArguments, Entry, Expression, InlineExpression, Pattern, PatternElement,
};

/// What one message, or one term by its name with a dash before it, asks for.
#[derive(Debug, Default)]
pub struct Message {
    /// The file that it is in.
    pub topic: String,
    /// Its variables and those of the messages in it.
    pub variables: BTreeSet<String>,
    /// Those of its variables that choose between forms.
    pub selectors: BTreeSet<String>,
    /// Messages and terms that stand in it.
    pub references: BTreeSet<String>,
    /// Its own text, of every form.
    pub text: String,
}

impl Message {
    /// Forms side by side must not run together into words that nobody says.
    fn say(&mut self, text: &str) {
        self.text.push_str(text);
        self.text.push(' ');
    }
}

pub type Messages = BTreeMap<String, Message>;

fn words() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/words")
}

/// Names of the folders of languages.
pub fn folders() -> BTreeSet<String> {
    let entries = fs::read_dir(words()).unwrap().map(Result::unwrap);
    let folders = entries.filter(|entry| entry.path().is_dir());
    folders.map(|entry| entry.file_name().into_string().unwrap()).collect()
}

/// Names of a language's files.
pub fn topics(tag: &str) -> BTreeSet<String> {
    let entries = fs::read_dir(words().join(tag)).unwrap().map(Result::unwrap);
    entries.map(|entry| entry.file_name().into_string().unwrap()).collect()
}

/// Every message of a language; fails where a file cannot be read to its end or says a thing twice.
pub fn messages(tag: &str) -> Messages {
    let text = |topic: &String| fs::read_to_string(words().join(tag).join(topic)).unwrap();
    let files: Vec<(String, String)> =
        topics(tag).into_iter().map(|topic| (topic.clone(), text(&topic))).collect();
    parse(tag, &files)
}

/// Every message of `files` (name, text).
pub fn parse(tag: &str, files: &[(String, String)]) -> Messages {
    let mut messages = Messages::new();
    for (topic, text) in files {
        let file = fluent_syntax::parser::parse(text.as_str())
            .unwrap_or_else(|(_, errors)| panic!("{tag}/{topic}: {errors:?}"));
        for entry in file.body {
            let (id, pattern) = match entry {
                Entry::Message(message) => {
                    assert!(
                        message.attributes.is_empty(),
                        "{tag}/{topic}: attributes are not used"
                    );
                    let id = message.id.name.to_owned();
                    let value = message.value.unwrap_or_else(|| panic!("{tag}: `{id}` is empty"));
                    (id, value)
                }
                Entry::Term(term) => (format!("-{}", term.id.name), term.value),
                _ => continue,
            };
            let mut message = Message { topic: topic.clone(), ..Message::default() };
            walk(&pattern, &mut message);
            assert!(messages.insert(id.clone(), message).is_none(), "{tag}: `{id}` twice");
        }
    }
    with_what_they_hold(tag, messages)
}

/// A message needs the variables of the messages that stand in it as well.
fn with_what_they_hold(tag: &str, mut messages: Messages) -> Messages {
    // As deep as messages stand in each other here; a ring of them would not end.
    for _ in 0..4 {
        let needs = |message: &Message| (message.variables.clone(), message.selectors.clone());
        let known: BTreeMap<String, _> =
            messages.iter().map(|(id, message)| (id.clone(), needs(message))).collect();
        for (id, message) in &mut messages {
            for inside in &message.references {
                let (variables, selectors) = known.get(inside).unwrap_or_else(|| {
                    panic!("{tag}: `{inside}`, which stands in `{id}`, is in no file")
                });
                message.variables.extend(variables.iter().cloned());
                message.selectors.extend(selectors.iter().cloned());
            }
        }
    }
    messages
}

fn walk(pattern: &Pattern<&str>, message: &mut Message) {
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { value } => message.say(value),
            PatternElement::Placeable { expression } => walk_expression(expression, message),
        }
    }
}

fn walk_expression(expression: &Expression<&str>, message: &mut Message) {
    match expression {
        Expression::Inline(inline) => walk_inline(inline, message),
        Expression::Select { selector, variants } => {
            if let InlineExpression::VariableReference { id } = selector {
                message.selectors.insert(id.name.to_owned());
            }
            walk_inline(selector, message);
            for variant in variants {
                walk(&variant.value, message);
            }
        }
    }
}

fn walk_inline(inline: &InlineExpression<&str>, message: &mut Message) {
    let mut arguments = |arguments: &CallArguments<&str>| {
        arguments.positional.iter().for_each(|one| walk_inline(one, message));
        arguments.named.iter().for_each(|one| walk_inline(&one.value, message));
    };
    match inline {
        InlineExpression::StringLiteral { value } => message.say(value),
        InlineExpression::NumberLiteral { .. } => {}
        InlineExpression::FunctionReference { arguments: given, .. } => arguments(given),
        InlineExpression::TermReference { id, arguments: given, .. } => {
            given.iter().for_each(&mut arguments);
            message.references.insert(format!("-{}", id.name));
        }
        InlineExpression::MessageReference { id, .. } => {
            message.references.insert(id.name.to_owned());
        }
        InlineExpression::VariableReference { id } => {
            message.variables.insert(id.name.to_owned());
        }
        InlineExpression::Placeable { expression } => walk_expression(expression, message),
    }
}
