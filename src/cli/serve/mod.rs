//! `fairseam serve`: the server, and the keys to it.

mod calendar;
pub(super) mod flags;
mod followed;
mod forms;
pub mod house;
mod keys;
mod planner;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, bail};

use super::folders::Folders;
use super::outcome::say;
use super::outlook::site_files::site_files;
use super::{clock, shell};
use crate::server::{
    App, Limits, Listener, LogStyle, Settings, Tls, run as listen_and_answer, start_log,
};
use crate::site::Site;
use crate::store::book::SqliteBook;
use crate::store::keys::SqliteKeys;
use flags::{LogFormat, ServeArguments};
use house::{Clock, Rim, ServedSite};

/// Serves, or does what is to be done with keys.
pub(super) fn run(arguments: &ServeArguments) -> anyhow::Result<()> {
    let folders = Folders::locate()?;
    if let Some(site_file) = &arguments.new_key {
        return keys::make(arguments, site_file.as_deref(), &folders);
    }
    if arguments.list_keys {
        return keys::list(&folders);
    }
    if let Some(id) = arguments.revoke {
        return keys::revoke(id, &folders);
    }
    serve(arguments, folders)
}

fn serve(arguments: &ServeArguments, folders: Folders) -> anyhow::Result<()> {
    let (tls, secure) = protection(arguments)?;
    let sites = served_sites(&arguments.sites)?;
    start_log(match arguments.log {
        LogFormat::Text => LogStyle::Text,
        LogFormat::Json => LogStyle::Json,
    });
    let limits = Limits {
        per_address: arguments.address_limit.try_into().ok(),
        per_key: arguments.key_limit.try_into().ok(),
        ..Limits::default()
    };
    let settings =
        Settings { secure, behind_proxy: arguments.behind_proxy, limits, ..Settings::default() };
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .max_blocking_threads(32)
        .build()
        .context("no asynchronous runtime could be started on this machine")?;
    runtime.block_on(async {
        let app = open(sites, folders, arguments.offline, our_clock()?, settings).await?;
        let listener = Listener::bind(arguments.listen, tls).await?;
        let scheme = if arguments.tls_cert.is_some() { "https" } else { "http" };
        // Whoever reads the next line may stop it at once.
        let stop = stop();
        say(&format!("serving at {scheme}://{}/ - stop with Ctrl-C", listener.address()));
        listen_and_answer(app, listener, stop).await;
        Ok(())
    })
}

/// The server's state on the data of `home`, without its sockets: for programs and tests.
///
/// # Errors
/// When a site file, the book or the keys cannot be read.
pub async fn open_at(
    home: &Path,
    site_files: &[PathBuf],
    clock: Clock,
    settings: Settings,
) -> anyhow::Result<Arc<App>> {
    let folders = Folders { data: home.to_owned(), cache: home.join("cache") };
    open(served_sites(site_files)?, folders, false, clock, settings).await
}

async fn open(
    sites: Vec<ServedSite>,
    folders: Folders,
    offline: bool,
    clock: Clock,
    settings: Settings,
) -> anyhow::Result<Arc<App>> {
    let book = SqliteBook::open(&folders.data).await?;
    let keys = SqliteKeys::open(&folders.data).await?;
    let house = Rim::new(sites, folders, book, offline, clock);
    Ok(App::open(Arc::new(house), keys, settings).await?)
}

/// The machine's clock, or the one that is fixed for all of this run.
fn our_clock() -> anyhow::Result<Clock> {
    // A clock that cannot be read is told now; from here on it can.
    let started = clock::now()?;
    Ok(Arc::new(move || clock::now().unwrap_or(started)))
}

/// TLS of our own where it is asked for, and whether phones reach us by TLS at all.
fn protection(arguments: &ServeArguments) -> anyhow::Result<(Option<Tls>, bool)> {
    let tls = match (&arguments.tls_cert, &arguments.tls_key) {
        (Some(certificates), Some(key)) => Some(Tls::load(certificates, key)?),
        _ => None,
    };
    let secure = tls.is_some() || arguments.behind_proxy;
    if !secure && !arguments.listen.ip().is_loopback() {
        bail!(
            "`--listen {}` is open to others, and keys would travel for all to read; expected a \
             loopback address, or `--tls-cert` and `--tls-key`, or `--behind-proxy` where a proxy \
             of yours speaks TLS to the phones",
            arguments.listen
        );
    }
    Ok((tls, secure))
}

fn served_sites(named: &[PathBuf]) -> anyhow::Result<Vec<ServedSite>> {
    let mut sites: Vec<ServedSite> = Vec::new();
    for file in site_files(named)? {
        let site: Site = shell::load_site(&file)?.site;
        let key = site.key();
        if let Some(other) = sites.iter().find(|other| other.site.key() == key) {
            bail!(
                "`{}` and `{}` are one site (`{key}`); expected each site once: give one of them \
                 another name or an `id` of its own",
                other.file.display(),
                file.display()
            );
        }
        sites.push(ServedSite { site: Arc::new(site), file });
    }
    Ok(sites)
}

/// Ctrl-C, or what a service manager sends. Both are heard from the call on, before anybody waits.
#[cfg(unix)]
fn stop() -> impl Future<Output = ()> {
    use tokio::signal::unix::{SignalKind, signal};
    let signals = (signal(SignalKind::terminate()), signal(SignalKind::interrupt()));
    async move {
        // Without a signal to wait for there is nothing that would end it but the process itself.
        let (Ok(mut terminate), Ok(mut interrupt)) = signals else {
            return std::future::pending().await;
        };
        tokio::select! {
            _ = terminate.recv() => {}
            _ = interrupt.recv() => {}
        }
    }
}

/// Ctrl-C.
#[cfg(not(unix))]
async fn stop() {
    // As above.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
