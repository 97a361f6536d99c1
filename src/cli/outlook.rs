//! `fairseam outlook`: many days and many sites, ahead by the forecast or behind by the record.

mod ahead;
pub mod flags;
mod kept;
mod known;
mod progress;
pub(super) mod site_files;
mod stop;
mod weather_years;
mod years;

use std::path::Path;

use anyhow::{anyhow, bail};

use super::clock;
use super::folders::Folders;
use super::outcome::{print, say};
use super::plan::paint;
use crate::render::outlook::{self as pages, Chart};
use crate::render::{OFFICE, words};
use crate::season::{Failed, SiteAhead};
use crate::store::stage;
use flags::{OutlookArguments, OutlookFormat};

/// What an outlook is shown as: the text for stdout, and the page.
struct Shown {
    text: String,
    page: Option<String>,
    failed: Vec<Failed>,
    sites: usize,
}

/// Looks at every site, writes the page, prints the outlook; then tells which sites there is none
/// for.
///
/// # Errors
/// When no site is named, nothing can be written, or a site could not be looked at: the others are
/// printed all the same.
pub(super) fn run(arguments: &OutlookArguments) -> anyhow::Result<()> {
    let now = clock::now()?;
    let files = site_files::site_files(&arguments.sites)?;
    if let Some(path) = &arguments.html
        && files.iter().any(|file| is_same(file, path))
    {
        bail!("`--html` names the site file `{}`; expected another file", path.display());
    }
    let folders = Folders::locate()?;
    stop::listen();
    let has_page = arguments.html.is_some();
    let shown = match &arguments.years {
        None => {
            let (sites, failed) = ahead::sites_ahead(arguments, &files, &folders, now);
            if arguments.format != OutlookFormat::Text {
                warn_of_stale(&sites);
            }
            let page = has_page.then(|| pages::ahead_page(&sites, &failed, now, &[]));
            let text = match arguments.format {
                OutlookFormat::Text => pages::ahead_text(&sites, &failed, paint(), chart()),
                OutlookFormat::Json => pages::ahead_json(&sites, &failed),
                OutlookFormat::Csv => pages::ahead_csv(&sites)?,
            };
            Shown { text, page, sites: sites.len(), failed }
        }
        Some(years) => {
            let (sites, failed) = years::sites_years(arguments, years, &files, &folders, now);
            let page = has_page.then(|| pages::years_page(&sites, &failed, now));
            let text = match arguments.format {
                OutlookFormat::Text => pages::years_text(&sites, &failed, paint(), chart()),
                OutlookFormat::Json => pages::years_json(&sites, &failed),
                OutlookFormat::Csv => pages::years_csv(&sites)?,
            };
            Shown { text, page, sites: sites.len(), failed }
        }
    };
    show(arguments, &shown)
}

fn show(arguments: &OutlookArguments, shown: &Shown) -> anyhow::Result<()> {
    if shown.sites > 0 {
        if let Some((path, page)) = arguments.html.as_ref().zip(shown.page.as_ref()) {
            stage(path, page.as_bytes())?.put_in_place()?;
            say(&format!("page written to {}", path.display()));
        }
        print(&shown.text)?;
    }
    match shown.failed.as_slice() {
        [] => Ok(()),
        [only] if shown.sites == 0 => bail!("{}: {}", only.file, only.reason),
        many => {
            for failed in many {
                say(&format!("error: {}: {}", failed.file, failed.reason));
            }
            let all = many.len() + shown.sites;
            bail!("{} of {all} sites could not be looked at", many.len())
        }
    }
}

/// The text says so itself.
fn warn_of_stale(sites: &[SiteAhead]) {
    for site in sites {
        if let Some(weather) = site.ahead.weather.as_ref().filter(|weather| weather.stale) {
            say(&format!(
                "warning: {}: {}",
                site.head.file,
                words::stale_line(OFFICE, weather.age)
            ));
        }
    }
}

/// Blocks need a terminal that can draw them.
fn chart() -> Chart {
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    if dumb { Chart::Ascii } else { Chart::Blocks }
}

fn is_same(file: &Path, other: &Path) -> bool {
    file.canonicalize().ok().zip(other.canonicalize().ok()).is_some_and(|(one, two)| one == two)
}

fn failed(file: &Path, error: &anyhow::Error) -> Failed {
    let file = file.display().to_string();
    let reason = one_sentence(&file, &in_a_sentence(error));
    Failed { file, reason }
}

/// The first of a site file's faults; among many sites, all of them would bury the rest.
fn one_sentence(file: &str, reason: &str) -> String {
    let mut lines = reason.lines();
    let first = lines.next().unwrap_or_default();
    // The file is named in front anyway.
    let first = first
        .strip_prefix(&format!("{file}:"))
        .map_or_else(|| first.to_owned(), |fault| format!("line {}", fault.trim_start()));
    match lines.count() {
        0 => first,
        more => format!("{first}; `fairseam check` tells {more} more"),
    }
}

/// An error with its causes.
fn in_a_sentence(error: &anyhow::Error) -> String {
    error.chain().map(ToString::to_string).collect::<Vec<_>>().join(": ")
}

fn not_begun() -> anyhow::Error {
    anyhow!("stopped before this site; what is done for the others is kept")
}
