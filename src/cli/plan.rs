//! `fairseam plan`: one working day.

use std::io::IsTerminal;

use anyhow::{Context, bail};
use chrono::{DateTime, Utc};

use super::arguments::{Format, PlanArguments};
use super::folders::Folders;
use super::outcome::{print, say};
use super::shell;
use super::{calendar_file, clock, earlier, keep_plan};
use crate::plan::{DayPlan, PlanInput, plan_day};
use crate::render::text::Paint;
use crate::render::{html, json, text, words};
use crate::site::{Kind, Site};
use crate::store::book::BookFault;
use crate::store::stage;
use crate::testweld::{ByHand, ByHandBeside, EarlierWindows};
use crate::units::{Temperature, TravelSpeed};

/// Plans the day, writes the calendar file and the page, prints the plan.
pub(super) fn run(arguments: &PlanArguments) -> anyhow::Result<()> {
    let now = clock::now()?;
    let mut site = shell::load_site(&arguments.site)?.site;
    site.language = arguments.language.unwrap_or(site.language);
    for (option, path) in [("--ics", &arguments.ics), ("--html", &arguments.html)] {
        if let Some(path) = path {
            shell::refuse_input(option, path, &site, &arguments.site, &arguments.forecast)?;
        }
    }
    let by_hand = by_hand(&site, arguments)?;
    let folders = Folders::locate()?;
    let (plan, unread) = plan(&site, arguments, by_hand, &folders, now)?;
    let is_kept = keep_plan::is_kept(&plan, arguments.keep, now)?;
    let shown = match arguments.format {
        Format::Json => json::plan_json(&plan),
        Format::Text => text::plan_text(&plan, paint()),
    };
    // The page is ready beside its place before the calendar is written: both or neither.
    let page = arguments
        .html
        .as_ref()
        .map(|path| stage(path, html::day_page(&plan).as_bytes()).map(|staged| (path, staged)))
        .transpose()?;
    if let Some(path) = &arguments.ics {
        calendar_file::write(&plan, &site.reminders, path, &folders, now)?;
    }
    if let Some((path, staged)) = page {
        staged.put_in_place()?;
        say(&format!("page written to {}", path.display()));
    }
    match is_kept {
        true => keep_plan::keep_in(unread.as_ref(), &plan, &site, &folders, now),
        false => unread.iter().for_each(|fault| say(&earlier::unread(fault))),
    }
    if plan.weather.stale && arguments.format == Format::Json {
        say(&format!("warning: {}", words::stale_line(plan.language, plan.weather.age)));
    }
    print(&shown)
}

/// The plan, and why it was made without the book where that could not be read.
fn plan(
    site: &Site,
    arguments: &PlanArguments,
    by_hand: Option<ByHand>,
    folders: &Folders,
    now: DateTime<Utc>,
) -> anyhow::Result<(DayPlan, Option<BookFault>)> {
    let weather = shell::weather(site, &arguments.site, &arguments.forecast, folders, now)?;
    let time_zone = weather.time_zone;
    let date = shell::date_of(arguments.date, now, time_zone)?;
    let (book, unread) = earlier::look_up(site, &folders.data, time_zone)?;
    let book = book.as_ref();
    // A center given by hand comes before the book's; what the book has learned stays.
    let by_hand = by_hand.map(|by_hand| ByHandBeside { by_hand, book });
    let earlier = by_hand.as_ref().map_or(book, |by_hand| by_hand as &dyn EarlierWindows);
    let forecast = &weather.forecast;
    Ok((plan_day(&PlanInput { site, time_zone, date, now, forecast, earlier })?, unread))
}

/// The center given on the command line, held against the welders it is meant for.
fn by_hand(site: &Site, arguments: &PlanArguments) -> anyhow::Result<Option<ByHand>> {
    let carry_days = site.rules.carry_days;
    let Some(center) = arguments.center else { return Ok(None) };
    let by_hand = ByHand {
        center: Temperature::from_units(center, site.units),
        speed: arguments.center_speed.map(|speed| TravelSpeed::from_units(speed, site.units)),
        sheet: arguments.center_sheet.map(|sheet| Temperature::from_units(sheet, site.units)),
        welder: arguments.center_welder.clone(),
        site_has_automatic: site.welders.iter().any(|welder| welder.kind == Kind::Automatic),
        carry_days,
    };
    check_by_hand(site, arguments, &by_hand, center)?;
    check_sheet(site, arguments.center_sheet)?;
    Ok(Some(by_hand))
}

fn check_by_hand(
    site: &Site,
    arguments: &PlanArguments,
    by_hand: &ByHand,
    center: f64,
) -> anyhow::Result<()> {
    let names = || site.welders.iter().map(|welder| welder.name.as_str()).collect::<Vec<_>>();
    if let Some(name) = &by_hand.welder
        && !names().contains(&name.as_str())
    {
        bail!(
            "`--center-welder` is `{name}`; expected one of the site's welders: {}",
            names().join(", ")
        );
    }
    for welder in site.welders.iter().filter(|welder| by_hand.is_for(welder)) {
        let (low, max) = (welder.heat_low, welder.heat_max);
        let fits = !by_hand.center.is_below(low) && !by_hand.center.is_above(max);
        if !center.is_finite() || !fits {
            bail!(
                "`--center` is {typed} {unit}; expected a heat of {} from {:.0} to {:.0} {unit}",
                welder.name,
                low.in_units(site.units),
                max.in_units(site.units),
                typed = as_typed(center),
                unit = site.units.temperature(),
            );
        }
        let Some((slowest, fastest)) = welder.speed else { continue };
        let unit = site.units.travel_speed();
        let range = format!(
            "from {:.1} to {:.1} {unit}",
            slowest.in_units(site.units),
            fastest.in_units(site.units)
        );
        let typed = arguments.center_speed.with_context(|| {
            format!(
                "`--center` needs `--center-speed` for {}, since a center holds for one speed \
                 only; expected a speed {range}",
                welder.name
            )
        })?;
        let speed = TravelSpeed::from_units(typed, site.units);
        if !typed.is_finite() || !speed.clamp(slowest, fastest).same_as(speed) {
            bail!(
                "`--center-speed` is {} {unit}; expected a speed of {} {range}",
                as_typed(typed),
                welder.name
            );
        }
    }
    Ok(())
}

/// Coldest and hottest sheet that anyone will have measured at a trial.
const SHEET: (Temperature, Temperature) =
    (Temperature::from_celsius(-40.0), Temperature::from_celsius(100.0));

fn check_sheet(site: &Site, typed: Option<f64>) -> anyhow::Result<()> {
    let Some(typed) = typed else { return Ok(()) };
    let sheet = Temperature::from_units(typed, site.units);
    if !typed.is_finite() || sheet.is_below(SHEET.0) || sheet.is_above(SHEET.1) {
        bail!(
            "`--center-sheet` is {} {unit}; expected a sheet temperature from {:.0} to {:.0} {unit}",
            as_typed(typed),
            SHEET.0.in_units(site.units),
            SHEET.1.in_units(site.units),
            unit = site.units.temperature(),
        );
    }
    Ok(())
}

/// A number as someone would have typed it: nobody types 308 zeros.
fn as_typed(number: f64) -> String {
    if number.abs() < 1e9 { number.to_string() } else { format!("{number:e}") }
}

/// Color where a terminal shows it and nobody has asked for none.
pub(super) fn paint() -> Paint {
    let no_color = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    if std::io::stdout().is_terminal() && !no_color && !dumb { Paint::Color } else { Paint::Plain }
}
