//! `fairseam follow`: the plan kept current through the shift.

pub(super) mod flags;
mod outside;
mod stop;

use std::path::{Path, PathBuf};

use anyhow::bail;

use super::arguments::ForecastArguments;
use super::folders::Folders;
use super::shell;
use crate::publish::caldav::{Collection, Login};
use crate::publish::{FollowedSite, Follower, Setup};
use flags::FollowArguments;
use outside::Outside;

/// Follows the sites until it is told to stop, or looks once.
pub(super) fn run(arguments: &FollowArguments) -> anyhow::Result<()> {
    let folders = Folders::locate()?;
    if arguments.sites.len() > 1 && arguments.forecast.forecast.is_some() {
        bail!(
            "`--forecast` names one forecast, and {} sites are to be followed; expected one site",
            arguments.sites.len()
        );
    }
    let mut sites: Vec<FollowedSite> = Vec::new();
    for file in &arguments.sites {
        let site = followed_site(file, &arguments.forecast)?;
        if sites.iter().any(|other| other.site.key() == site.site.key()) {
            bail!("`{}` is a site that was named already; expected each site once", file.display());
        }
        sites.push(site);
    }
    let outside = Outside::new(folders.clone(), arguments.forecast.clone())?;
    let setup = Setup { data_folder: folders.data, holder: holder(), sites };
    let mut follower = Follower::new(setup, outside)?;
    if arguments.once {
        let tick = follower.tick();
        follower.give_back();
        if tick.had_trouble {
            bail!("something could not be done; the lines above say what");
        }
        return Ok(());
    }
    stop::listen(std::thread::current())?;
    follower.run();
    Ok(())
}

fn followed_site(file: &Path, forecast: &ForecastArguments) -> anyhow::Result<FollowedSite> {
    let site = shell::load_site(file)?.site;
    // A path in a site file is meant from where the site file is.
    let beside = |path: &String| {
        file.parent().map_or_else(|| PathBuf::from(path), |folder| folder.join(path))
    };
    let ics = site.publish.ics.as_ref().map(beside);
    if let Some(ics) = &ics {
        shell::refuse_input("publish.ics", ics, &site, file, forecast)?;
    }
    let login = site.publish.caldav_login.as_ref().map(beside);
    let caldav = match &site.publish.caldav {
        Some(address) => {
            let environment = std::env::var("FAIRSEAM_CALDAV_LOGIN").ok();
            let environment = environment.filter(|text| !text.is_empty());
            let login = Login::find(environment, login.as_deref())?;
            Some(Collection::new(address, login)?)
        }
        None => None,
    };
    Ok(FollowedSite { site, file: file.to_owned(), ics, caldav })
}

/// Another name for every process: two followers on one machine must tell themselves apart.
fn holder() -> String {
    let host = std::fs::read_to_string("/proc/sys/kernel/hostname").unwrap_or_default();
    let host = host.trim();
    let host = if host.is_empty() { "this machine" } else { host };
    format!("{host}, process {}", std::process::id())
}
