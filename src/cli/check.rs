//! `fairseam check`: a site file, its rules, its weather source.

use anyhow::Context;

use super::arguments::CheckArguments;
use super::clock;
use super::folders::Folders;
use super::outcome::print;
use super::shell::{self, SiteWeather};
use crate::site;
use crate::weather::Field;

/// Shows every rule in force, then tries the weather source.
pub(super) fn run(arguments: &CheckArguments) -> anyhow::Result<()> {
    let now = clock::now()?;
    let loaded = shell::load_site(&arguments.site)?;
    print(&site::rules_in_force(&loaded))?;
    let folders = Folders::locate()?;
    let weather = shell::weather(&loaded.site, &arguments.site, &arguments.forecast, &folders, now)
        .context("the site file is sound, but its weather source gives no forecast")?;
    print(&weather_report(&weather))
}

fn weather_report(weather: &SiteWeather) -> String {
    let SiteWeather { forecast, time_zone: zone, .. } = weather;
    let hours = forecast.hours();
    let air = || hours.iter().filter(|hour| hour.air.is_some());
    let show = |at: chrono::DateTime<chrono::Utc>| {
        at.with_timezone(zone).format("%Y-%m-%d %H:%M").to_string()
    };
    let (first, last) = (air().next(), air().next_back());
    let covers = match (first, last) {
        (Some(first), Some(last)) => {
            format!(
                "air for {} hours from {} to {}",
                air().count(),
                show(first.time),
                show(last.time)
            )
        }
        _ => "no air temperature".to_owned(),
    };
    let missing: Vec<&str> = Field::ALL
        .into_iter()
        .filter(|field| !hours.iter().any(|hour| hour.has(*field)))
        .map(Field::name)
        .collect();
    let missing = if missing.is_empty() { "nothing".to_owned() } else { missing.join(", ") };
    let provenance = &forecast.provenance;
    let stale = if provenance.stale { "  stale: the service could not be asked\n" } else { "" };
    format!(
        "\nWeather source {source}\n{stale}  {covers} ({zone})\n  not in it: {missing}\n  {credit}\n",
        source = provenance.source,
        credit = provenance.attribution,
    )
}
