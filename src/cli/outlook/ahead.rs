//! The days ahead of every site, by its forecast.

use std::path::{Path, PathBuf};

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};

use super::flags::OutlookArguments;
use super::progress::Progress;
use super::stop;
use crate::cli::arguments::Day;
use crate::cli::folders::Folders;
use crate::cli::{earlier, shell};
use crate::season::{AheadInput, Failed, Reach, SiteAhead, SiteHead, days_ahead, worst_first};

/// The sites that could be looked at, worst first, and those that could not.
pub(super) fn sites_ahead(
    arguments: &OutlookArguments,
    files: &[PathBuf],
    folders: &Folders,
    now: DateTime<Utc>,
) -> (Vec<SiteAhead>, Vec<Failed>) {
    let (mut sites, mut failed) = (Vec::new(), Vec::new());
    let mut progress = Progress::new("sites", files.len());
    for file in files {
        if stop::asked() {
            failed.push(super::failed(file, &super::not_begun()));
            continue;
        }
        match site_ahead(arguments, file, folders, now) {
            Ok(site) => sites.push(site),
            Err(error) => failed.push(super::failed(file, &error)),
        }
        progress.step();
    }
    worst_first(&mut sites);
    (sites, failed)
}

fn site_ahead(
    arguments: &OutlookArguments,
    file: &Path,
    folders: &Folders,
    now: DateTime<Utc>,
) -> anyhow::Result<SiteAhead> {
    let site = shell::load_site(file)?.site;
    let weather = shell::weather(&site, file, &arguments.forecast, folders, now)?;
    let time_zone = weather.time_zone;
    let from = shell::date_of(arguments.from.unwrap_or(Day::Tomorrow), now, time_zone)?;
    let to = match arguments.days {
        None => None,
        Some(days) => Some(
            from.checked_add_signed(TimeDelta::days(i64::from(days) - 1))
                .context("the calendar ends before the last of `--days`")?,
        ),
    };
    let earlier = earlier::from_book(&site, &folders.data, time_zone)?;
    let input = AheadInput {
        site: &site,
        time_zone,
        now,
        forecast: &weather.forecast,
        earlier: earlier.as_ref(),
    };
    let head = SiteHead::of(&site, &file.display().to_string(), time_zone);
    Ok(SiteAhead { head, ahead: days_ahead(&input, Reach { from, to }) })
}
