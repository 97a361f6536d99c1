//! Which site files are meant: files, folders, lists.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Context, bail};

/// More sites than any office has; a folder of more is the wrong folder.
const MOST: usize = 5000;
/// Bytes of a list at most.
const LONGEST_LIST: u64 = 1 << 20;

/// Every site file that `named` means, each once, in the order in which they are named; a folder's in
/// the order of their names.
///
/// # Errors
/// When a folder or a list cannot be read or names none, or there are too many.
pub(in crate::cli) fn site_files(named: &[PathBuf]) -> anyhow::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    let mut known = BTreeSet::new();
    for path in named {
        let found = if path.is_dir() {
            of_folder(path)?
        } else if is_toml(path) {
            vec![path.clone()]
        } else {
            of_list(path)?
        };
        for file in found {
            if known.insert(file.canonicalize().unwrap_or_else(|_| file.clone())) {
                files.push(file);
            }
        }
    }
    if files.len() > MOST {
        bail!("{} site files are named; expected at most {MOST}", files.len());
    }
    Ok(files)
}

fn is_toml(path: &Path) -> bool {
    path.extension().is_some_and(|end| end.eq_ignore_ascii_case("toml"))
}

fn of_folder(folder: &Path) -> anyhow::Result<Vec<PathBuf>> {
    let name = folder.display();
    let entries =
        fs::read_dir(folder).with_context(|| format!("the folder `{name}` cannot be read"))?;
    let mut files = Vec::new();
    for entry in entries {
        let path = entry.with_context(|| format!("the folder `{name}` cannot be read"))?.path();
        if is_toml(&path) && path.is_file() {
            files.push(path);
        }
    }
    if files.is_empty() {
        bail!("the folder `{name}` holds no site file; expected files whose names end in `.toml`");
    }
    files.sort();
    Ok(files)
}

/// One file a line, from where the list is; empty lines and lines that begin with `#` say nothing.
fn of_list(list: &Path) -> anyhow::Result<Vec<PathBuf>> {
    let name = list.display();
    let mut text = String::new();
    let read = |file: File| file.take(LONGEST_LIST + 1).read_to_string(&mut text);
    File::open(list).and_then(read).with_context(|| {
        format!(
            "`{name}` cannot be read as a list of site files; expected a site file (`.toml`), a \
             folder of them, or a UTF-8 text with one of them a line"
        )
    })?;
    if text.len() as u64 > LONGEST_LIST {
        bail!("the list `{name}` is too long; expected at most {LONGEST_LIST} bytes");
    }
    let folder = list.parent().unwrap_or_else(|| Path::new(""));
    let lines =
        text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    let files: Vec<PathBuf> = lines.map(|line| folder.join(line)).collect();
    if let Some(other) = files.iter().find(|file| !is_toml(file)) {
        bail!(
            "the list `{name}` names `{}`; expected site files, whose names end in `.toml`",
            other.display()
        );
    }
    if files.is_empty() {
        bail!("the list `{name}` names no site file; expected one a line");
    }
    Ok(files)
}
