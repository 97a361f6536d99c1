//! Making, listing and taking back keys.

use std::path::Path;

use anyhow::{Context, bail};
use chrono::TimeDelta;

use super::flags::{RoleWord, ServeArguments};
use crate::cli::clock;
use crate::cli::folders::Folders;
use crate::cli::outcome::{print, say};
use crate::cli::shell::{block_on, load_site};
use crate::render::trial::clean;
use crate::store::keys::{NewKey, Role, Secret, SqliteKeys};

/// Longest name of a holder, in characters.
const LONGEST_HOLDER: usize = 80;
/// Days of the longest key: ten years.
const MOST_DAYS: u32 = 3653;

/// Makes a key and shows it, with the link that carries it.
pub(super) fn make(
    arguments: &ServeArguments,
    site_file: Option<&Path>,
    folders: &Folders,
) -> anyhow::Result<()> {
    let now = clock::now()?;
    let role = match arguments.role.context("`--new-key` needs `--for crew|office|feed`")? {
        RoleWord::Crew => Role::Crew,
        RoleWord::Office => Role::Office,
        RoleWord::Feed => Role::Feed,
    };
    let site = site_file.map(load_site).transpose()?.map(|loaded| loaded.site);
    let site_key = match (role, &site) {
        (Role::Office, None) => None,
        (Role::Office, Some(_)) => {
            say("note: an office key opens every site, not this one alone");
            None
        }
        (Role::Crew | Role::Feed, Some(site)) => Some(site.key()),
        (Role::Crew | Role::Feed, None) => bail!(
            "a key for the {} is for one site; name its file: `--new-key roof.toml`",
            role.name()
        ),
    };
    let days = arguments.days.get();
    if days > MOST_DAYS {
        bail!("`--days` is {days}; expected 1 to {MOST_DAYS}");
    }
    let expires_at = now
        .checked_add_signed(TimeDelta::days(i64::from(days)))
        .context("the calendar ends before this key; check the clock")?;
    let holder = holder(arguments.holder.as_deref().unwrap_or_default())?;
    let new = NewKey { role, site_key: site_key.clone(), holder, made_at: now, expires_at };
    let (key, secret) = block_on(async {
        let keys = SqliteKeys::open(&folders.data).await?;
        keys.make(&new).await
    })??;
    say(&format!(
        "key {} for the {} is good until {}; it is shown this once and kept nowhere",
        key.id,
        role.name(),
        expires_at.format("%Y-%m-%d %H:%M UTC")
    ));
    print(&format!("{}\n", link(arguments.url.as_deref(), role, site_key.as_deref(), &secret)))
}

/// For pages the key stands behind the `#`, which a browser keeps to itself; a calendar program has
/// no other place for it than the address.
fn link(url: Option<&str>, role: Role, site_key: Option<&str>, secret: &Secret) -> String {
    let base = url.unwrap_or("http://127.0.0.1:8790").trim_end_matches('/');
    match (role, site_key) {
        (Role::Feed, Some(site)) => format!("{base}/feeds/{site}/{}.ics", secret.shown()),
        _ => format!("{base}/enter#{}", secret.shown()),
    }
}

fn holder(name: &str) -> anyhow::Result<String> {
    let name = name.trim();
    if name.is_empty() || name.chars().count() > LONGEST_HOLDER || name != clean(name) {
        bail!(
            "`--holder` is {}; expected a name of 1 to {LONGEST_HOLDER} characters that can be \
             printed",
            crate::cli::record::fault::quoted(name)
        );
    }
    Ok(name.to_owned())
}

/// One line a key.
pub(super) fn list(folders: &Folders) -> anyhow::Result<()> {
    let now = clock::now()?;
    let keys = block_on(async {
        let keys = SqliteKeys::open(&folders.data).await?;
        keys.all().await
    })??;
    if keys.is_empty() {
        say("there are no keys yet; `fairseam serve --new-key` makes one");
    }
    let lines = keys.iter().map(|(_, key)| {
        format!(
            "{:>4}  {:<6}  {:<7}  until {}  {:<16}  {}\n",
            key.id,
            key.role.name(),
            key.state(now).name(),
            key.expires_at.format("%Y-%m-%d"),
            key.site_key.as_deref().unwrap_or("all sites"),
            clean(&key.holder)
        )
    });
    print(&lines.collect::<String>())
}

/// Takes a key back.
pub(super) fn revoke(id: u64, folders: &Folders) -> anyhow::Result<()> {
    let now = clock::now()?;
    block_on(async {
        let keys = SqliteKeys::open(&folders.data).await?;
        keys.revoke(id, now).await
    })??;
    say(&format!("key {id} opens nothing any more; a running server knows within seconds"));
    Ok(())
}
