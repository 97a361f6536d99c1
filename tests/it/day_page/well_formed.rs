//! Reads a page the strict way, as XML would be read, into its elements.

use std::collections::BTreeMap;

/// An element: name, attributes, and all text in it, unescaped.
#[derive(Debug, Clone)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: BTreeMap<String, String>,
    pub(crate) text: String,
    /// Names of the elements around it, outermost first.
    pub(crate) inside: Vec<String>,
}

impl Element {
    pub(crate) fn value(&self, attribute: &str) -> &str {
        self.attributes.get(attribute).map_or("", String::as_str)
    }

    /// Whether `class` is one of its classes.
    pub(crate) fn is(&self, class: &str) -> bool {
        self.value("class").split(' ').any(|one| one == class)
    }

    pub(crate) fn number(&self, attribute: &str) -> f64 {
        let value = self.value(attribute);
        value.parse().unwrap_or_else(|_| panic!("{attribute}={value:?} of {}", self.name))
    }
}

/// Every element, in the order in which they begin; panics at the first fault.
pub(crate) fn elements(page: &str) -> Vec<Element> {
    let mut rest = page.strip_prefix("<!DOCTYPE html>\n").expect("a doctype first");
    let mut all: Vec<Element> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    while let Some(at) = rest.find('<') {
        let (text, from) = rest.split_at(at);
        let raw = open.last().is_some_and(|&index| all[index].name == "style");
        let text = if raw { text.to_owned() } else { unescaped(text) };
        open.iter().for_each(|&index| all[index].text.push_str(&text));
        let (tag, after) = from[1..].split_once('>').expect("a tag is closed");
        rest = after;
        if let Some(name) = tag.strip_prefix('/') {
            let index = open.pop().unwrap_or_else(|| panic!("</{name}> closes nothing"));
            assert_eq!(all[index].name, name, "closed in the wrong order");
            continue;
        }
        let (tag, is_empty) = tag.strip_suffix('/').map_or((tag, false), |tag| (tag, true));
        let inside = open.iter().map(|&index| all[index].name.clone()).collect();
        all.push(Element { inside, ..begin(tag) });
        if !is_empty {
            open.push(all.len() - 1);
        }
    }
    assert!(
        open.is_empty(),
        "{:?} stays open",
        open.iter().map(|&i| &all[i].name).collect::<Vec<_>>()
    );
    assert_eq!(rest.trim(), "", "text after the page");
    all
}

fn begin(tag: &str) -> Element {
    let (name, mut rest) = tag.split_once(' ').unwrap_or((tag, ""));
    let sound = |name: &str| {
        let fits = |c: char| c.is_ascii_alphanumeric() || c == '-';
        !name.is_empty() && name.chars().all(fits)
    };
    assert!(sound(name), "an element named {name:?}");
    let mut attributes = BTreeMap::new();
    while !rest.is_empty() {
        let (key, after) = rest.split_once("=\"").unwrap_or_else(|| panic!("{rest:?} in {name}"));
        let (value, after) = after.split_once('"').unwrap_or_else(|| panic!("{key} in {name}"));
        assert!(sound(key), "an attribute named {key:?}");
        let twice = attributes.insert(key.to_owned(), unescaped(value)).is_some();
        assert!(!twice, "{key} twice in {name}");
        rest = after.strip_prefix(' ').unwrap_or(after);
    }
    Element { name: name.to_owned(), attributes, text: String::new(), inside: Vec::new() }
}

/// Only the five escapes that the page uses; any other `&`, and any bare `>`, is a fault.
fn unescaped(text: &str) -> String {
    assert!(!text.contains('>'), "a bare > in {text:?}");
    let known = [("amp;", '&'), ("lt;", '<'), ("gt;", '>'), ("quot;", '"'), ("#39;", '\'')];
    let mut pieces = text.split('&');
    let mut plain = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let found = known.iter().find_map(|(code, sign)| Some((*sign, piece.strip_prefix(code)?)));
        let (sign, after) = found.unwrap_or_else(|| panic!("a bare & before {piece:?}"));
        plain.push(sign);
        plain.push_str(after);
    }
    plain
}
