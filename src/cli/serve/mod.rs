//! `fairseam serve`: the server, and the keys to it.

mod calendar;
pub(super) mod flags;
mod forms;
pub mod house;
mod keys;

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
use house::{Rim, ServedSite};

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
    // Whatever is wrong with the command is told before anything begins.
    clock::now()?;
    let (tls, secure) = protection(arguments)?;
    let sites = served_sites(arguments)?;
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
        let book = SqliteBook::open(&folders.data).await?;
        let keys = SqliteKeys::open(&folders.data).await?;
        let house = Rim::new(sites, folders, book, arguments.offline);
        let app = App::open(Arc::new(house), keys, settings).await?;
        let listener = Listener::bind(arguments.listen, tls).await?;
        let scheme = if arguments.tls_cert.is_some() { "https" } else { "http" };
        say(&format!("serving at {scheme}://{}/ - stop with Ctrl-C", listener.address()));
        listen_and_answer(app, listener, stop()).await;
        Ok(())
    })
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

fn served_sites(arguments: &ServeArguments) -> anyhow::Result<Vec<ServedSite>> {
    let mut sites: Vec<ServedSite> = Vec::new();
    for file in site_files(&arguments.sites)? {
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

/// Ctrl-C, or what a service manager sends.
async fn stop() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut terminate) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = terminate.recv() => {}
                _ = tokio::signal::ctrl_c() => {}
            }
            return;
        }
    }
    // Without any signal to wait for there is nothing that would end it but the process itself.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
