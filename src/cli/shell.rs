//! What every command starts with: the site, its weather, the day in question.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Context, anyhow, bail};
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::arguments::{Day, ForecastArguments};
use super::folders::Folders;
use super::outcome::say;
use crate::site::{self, Loaded, Site, SourceName};
use crate::weather::{self, Forecast, Patience, Place, Request, Source, SourceSettings};

/// Reads and validates a site file.
///
/// # Errors
/// When it cannot be read, or with every fault that it has.
pub(super) fn load_site(path: &Path) -> anyhow::Result<Loaded> {
    let name = path.display();
    // No further than the limit: a device has no size and may have no end.
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(site::MAX_BYTES as u64 + 1).read_to_end(&mut bytes))
        .with_context(|| match path.is_dir() {
            true => format!("`{name}` is a folder; expected one site file of it"),
            false => format!(
                "the site file `{name}` cannot be read; expected a file such as `roof.toml`, of \
                 which `config/example.toml` in the clone is one to copy"
            ),
        })?;
    if bytes.len() > site::MAX_BYTES {
        bail!(
            "the site file `{name}` is too long; expected a TOML file of at most {} bytes",
            site::MAX_BYTES
        );
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let line = 1 + error.as_bytes()[..error.utf8_error().valid_up_to()]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count();
        anyhow!("{name}:{line}: expected UTF-8 text, found other bytes; save the file as UTF-8")
    })?;
    Ok(site::load(&text, &name.to_string())?)
}

/// Refuses to write a result over a file that the plan is made from.
///
/// # Errors
/// When `path`, given to `option`, is the site file or the forecast file.
pub(super) fn refuse_input(
    option: &str,
    path: &Path,
    site: &Site,
    site_file: &Path,
    arguments: &ForecastArguments,
) -> anyhow::Result<()> {
    let Ok(real) = path.canonicalize() else { return Ok(()) };
    let is_real = |input: &Path| input.canonicalize().is_ok_and(|input| input == real);
    let forecast = settings(site, site_file, arguments).path;
    let what = if is_real(site_file) {
        "the site file"
    } else if forecast.is_some_and(|forecast| is_real(&forecast)) {
        "the forecast file"
    } else {
        return Ok(());
    };
    bail!("`{option}` names {what} `{}`; expected another file to write to", path.display())
}

/// The weather of a site and the zone of its shift.
pub(super) struct SiteWeather {
    pub(super) forecast: Forecast,
    pub(super) time_zone: Tz,
    /// From when on the source has something new, by its own word.
    pub(super) ask_again_at: Option<DateTime<Utc>>,
    /// What the user should know about how it came, a sentence each.
    pub(super) warnings: Vec<String>,
}

/// The forecast for a site, from its source or from the file given instead, and the zone: the
/// site's own, or else the one that the source tells.
///
/// # Errors
/// When there is no forecast to be had, or nobody tells the zone.
pub(super) fn weather(
    site: &Site,
    site_file: &Path,
    arguments: &ForecastArguments,
    folders: &Folders,
    now: DateTime<Utc>,
) -> anyhow::Result<SiteWeather> {
    let weather = quiet_weather(site, site_file, arguments, folders, now)?;
    for warning in &weather.warnings {
        say(&format!("note: {warning}"));
    }
    Ok(weather)
}

/// The same without a word; whoever asks says the warnings.
///
/// # Errors
/// See [`weather`].
pub(super) fn quiet_weather(
    site: &Site,
    site_file: &Path,
    arguments: &ForecastArguments,
    folders: &Folders,
    now: DateTime<Utc>,
) -> anyhow::Result<SiteWeather> {
    let settings = settings(site, site_file, arguments);
    let request = Request {
        place: place(site),
        settings: &settings,
        now,
        cache_dir: &folders.cache,
        offline: arguments.offline,
        patience: Patience::default(),
    };
    block_on(async {
        let answer = weather::forecast_for(&request).await?;
        let told = site.time_zone.or(answer.forecast.provenance.time_zone);
        let time_zone = match told {
            Some(zone) => Some(zone),
            None => weather::time_zone_for(&request).await?,
        };
        let time_zone = time_zone.ok_or_else(|| {
            anyhow!(
                "the site file has no `time_zone` and {} does not tell it; add one such as \
                 `time_zone = \"America/New_York\"`",
                answer.forecast.provenance.source
            )
        })?;
        let weather::Answer { forecast, warnings, ask_again_at } = answer;
        Ok(SiteWeather { forecast, time_zone, ask_again_at, warnings })
    })?
}

/// The date of a day as typed, on the site's clock.
///
/// # Errors
/// When the calendar ends.
pub(super) fn date_of(day: Day, now: DateTime<Utc>, zone: Tz) -> anyhow::Result<NaiveDate> {
    let today = now.with_timezone(&zone).date_naive();
    match day {
        Day::On(date) => Ok(date),
        Day::Today => Ok(today),
        Day::Tomorrow => today
            .checked_add_signed(TimeDelta::days(1))
            .context("there is no tomorrow in this calendar; check the clock"),
    }
}

pub(super) fn place(site: &Site) -> Place {
    Place {
        latitude_deg: site.latitude_deg,
        longitude_deg: site.longitude_deg,
        elevation: site.elevation,
    }
}

pub(super) fn settings(
    site: &Site,
    site_file: &Path,
    arguments: &ForecastArguments,
) -> SourceSettings {
    let from_site = &site.weather;
    // A path in a site file is meant from where the site file is.
    let beside = |path: &String| {
        site_file.parent().map_or_else(|| PathBuf::from(path), |folder| folder.join(path))
    };
    let (source, path) = match &arguments.forecast {
        Some(path) => (Source::File, Some(path.clone())),
        None => (source(from_site.source), from_site.path.as_ref().map(beside)),
    };
    SourceSettings {
        source,
        path,
        contact: from_site.contact.clone(),
        base_url: from_site.base_url.clone(),
        api_key: from_site.api_key.clone(),
        non_commercial: from_site.non_commercial,
    }
}

const fn source(name: SourceName) -> Source {
    match name {
        SourceName::Auto => Source::Auto,
        SourceName::Nws => Source::Nws,
        SourceName::MetNorway => Source::MetNorway,
        SourceName::OpenMeteo => Source::OpenMeteo,
        SourceName::File => Source::File,
    }
}

/// Runs one asynchronous task to its end; on a thread of the server, by the server's own runtime.
///
/// # Errors
/// When no runtime can be started.
pub(super) fn block_on<T>(future: impl Future<Output = T>) -> anyhow::Result<T> {
    if let Ok(running) = tokio::runtime::Handle::try_current() {
        return Ok(running.block_on(future));
    }
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .context("no asynchronous runtime could be started on this machine")?;
    Ok(runtime.block_on(future))
}
