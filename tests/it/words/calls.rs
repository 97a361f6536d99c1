//! Every `tell!` in the code, as Rust's own tokens.

use std::collections::BTreeSet;
use std::fs;

use proc_macro2::{Delimiter, TokenStream, TokenTree};

use crate::house::rust_files;

/// One `tell!`.
pub struct Call {
    /// Where it stands.
    pub file: String,
    /// The message that it says.
    pub id: String,
    /// The names of the variables that it gives.
    pub variables: BTreeSet<String>,
}

/// Every `tell!` under src.
pub fn calls() -> Vec<Call> {
    let mut calls = Vec::new();
    for path in rust_files("src") {
        let text = fs::read_to_string(&path).unwrap();
        collect(text.parse().unwrap(), &path.display().to_string(), &mut calls);
    }
    calls
}

fn collect(tokens: TokenStream, file: &str, calls: &mut Vec<Call>) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    for (index, token) in tokens.iter().enumerate() {
        let TokenTree::Group(group) = token else { continue };
        collect(group.stream(), file, calls);
        let before = |back: usize| index.checked_sub(back).map(|at| tokens[at].to_string());
        if before(1).as_deref() == Some("!") && before(2).as_deref() == Some("tell") {
            assert_eq!(group.delimiter(), Delimiter::Parenthesis, "{file}: write `tell!(…)`");
            calls.push(call(group.stream(), file));
        }
    }
}

/// `language, "id", name = value, name`: parts between commas, each name at the start of its part.
fn call(tokens: TokenStream, file: &str) -> Call {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let parts = tokens.split(|token| token.to_string() == ",");
    let mut first_of_parts = parts.filter_map(|part| part.first()).map(ToString::to_string).skip(1);
    let id = first_of_parts.next().unwrap_or_else(|| panic!("{file}: a `tell!` without an id"));
    Call {
        file: file.to_owned(),
        id: id.trim_matches('"').to_owned(),
        variables: first_of_parts.collect(),
    }
}
