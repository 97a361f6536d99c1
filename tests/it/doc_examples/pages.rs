//! The documents, and what stands in their fences.

use std::fs;
use std::path::Path;

use crate::binary::root;

/// A document by its path in the clone.
pub(crate) struct Page {
    pub(crate) name: String,
    pub(crate) text: String,
}

/// A fenced block.
pub(crate) struct Fence {
    pub(crate) language: String,
    pub(crate) body: String,
}

/// README, the developers' page and everything in `docs/`.
pub(crate) fn pages() -> Vec<Page> {
    let mut names = vec!["DEVELOPERS.md".to_owned(), "README.md".to_owned()];
    for entry in fs::read_dir(root().join("docs")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|end| end == "md") {
            names.push(format!("docs/{}", path.file_name().unwrap().to_str().unwrap()));
        }
    }
    names.sort();
    names.into_iter().map(|name| Page { text: read(&name), name }).collect()
}

/// A file of the clone.
pub(crate) fn read(name: impl AsRef<Path>) -> String {
    fs::read_to_string(root().join(name)).unwrap()
}

impl Page {
    /// Its fenced blocks, without the indentation of their fence.
    pub(crate) fn fences(&self) -> Vec<Fence> {
        let mut fences: Vec<Fence> = Vec::new();
        let mut open: Option<usize> = None;
        for line in self.text.lines() {
            let indent = line.len() - line.trim_start().len();
            match (line.trim_start().strip_prefix("```"), open) {
                (Some(language), None) => {
                    fences.push(Fence { language: language.to_owned(), body: String::new() });
                    open = Some(indent);
                }
                (Some(_), Some(_)) => open = None,
                (None, Some(of_fence)) => {
                    let fence = fences.last_mut().unwrap();
                    fence.body.push_str(line.get(of_fence.min(indent)..).unwrap_or(""));
                    fence.body.push('\n');
                }
                (None, None) => {}
            }
        }
        assert_eq!(open, None, "{}: a fence without an end", self.name);
        fences
    }

    /// The bodies of the fences in one language.
    pub(crate) fn fenced(&self, language: &str) -> Vec<String> {
        let fences = self.fences().into_iter();
        fences.filter(|fence| fence.language == language).map(|fence| fence.body).collect()
    }

    /// What stands between single backquotes outside of fences.
    pub(crate) fn code_spans(&self) -> Vec<String> {
        let mut prose = String::new();
        let mut is_fenced = false;
        for line in self.text.lines() {
            if line.trim_start().starts_with("```") {
                is_fenced = !is_fenced;
            } else if !is_fenced {
                prose.push_str(line);
                prose.push(' ');
            }
        }
        prose.split('`').skip(1).step_by(2).map(str::to_owned).collect()
    }
}

/// The commands of a shell block, one a line; lines that end in a backslash go on.
pub(crate) fn commands(block: &str) -> Vec<String> {
    let whole = block.replace("\\\n", " ");
    let lines = whole.lines().map(str::trim);
    lines.filter(|line| !line.is_empty() && !line.starts_with('#')).map(str::to_owned).collect()
}
