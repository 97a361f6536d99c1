//! What the page's scripts work with: the day's checkpoints, the machines, the rules of the verdict,
//! the words of the page's language. Figures in the crew's units, instants in UTC.

use std::collections::BTreeMap;

use chrono::{DateTime, SecondsFormat, Utc};
use serde::Serialize;

use super::figures_of::{full_range, of_heat, of_speed, to_run};
use super::rules::{JudgingRules, WelderRange};
use super::script_words::script_words;
use super::standing::{Standing, standings};
use super::{CrewDay, CrewPage};
use crate::plan::DayPlan;
use crate::render::json::Figure;
use crate::render::words;
use crate::testweld::{Judging, Trial};
use crate::units::UnitSystem;
use crate::words as language_words;

#[derive(Serialize)]
struct Data<'a> {
    site: &'a str,
    site_key: &'a str,
    holder: &'a str,
    time_zone: &'static str,
    now: String,
    at: String,
    versions: Versions<'a>,
    unit_words: UnitWords,
    rules: JudgingRules,
    welders: Vec<WelderData>,
    checkpoints: Vec<CheckpointData>,
    running: Vec<Running>,
    last_words: LastWords<'a>,
    words: BTreeMap<&'static str, String>,
}

#[derive(Serialize)]
struct Versions<'a> {
    plan: &'a str,
    book: &'a str,
}

#[derive(Serialize)]
struct UnitWords {
    temperature: &'static str,
    speed: &'static str,
    width: &'static str,
}

#[derive(Serialize)]
struct WelderData {
    #[serde(flatten)]
    range: WelderRange,
    full_range: Vec<Figure>,
}

#[derive(Serialize)]
struct CheckpointData {
    /// Its day and its id, which is that of one day only.
    key: String,
    id: String,
    date: String,
    /// The day in words, for one that is not today's.
    day: String,
    time: String,
    over: String,
    /// Minutes after its time in which a trial is in time.
    allowed: i64,
    made: bool,
    standing: String,
    title: String,
    settings: Vec<SettingData>,
}

#[derive(Serialize)]
struct SettingData {
    welder: String,
    speed: Option<Figure>,
    heats: Vec<Figure>,
}

/// What a welder is set to, by its last trial of the day that proves something.
#[derive(Serialize)]
struct Running {
    welder: String,
    at: String,
    run: bool,
    figures: Option<String>,
}

/// Words of the last trial of the book, offered again.
#[derive(Serialize, Default)]
struct LastWords<'a> {
    lot: Option<&'a str>,
    roll: Option<&'a str>,
    weights: Option<&'a str>,
    air_flow: Option<&'a str>,
}

/// The data as JSON; `None` where a number is none, which a sound site and plan do not have.
pub(super) fn data(page: &CrewPage<'_>) -> Option<String> {
    let units = page.site.units;
    let days = [&page.today, &page.tomorrow];
    let data = Data {
        site: &page.site.name,
        site_key: page.site_key,
        holder: page.holder,
        time_zone: page.zone.name(),
        now: instant(page.now),
        at: instant(page.at),
        versions: Versions { plan: page.plan_version, book: page.book_version },
        unit_words: UnitWords {
            temperature: units.temperature(),
            speed: units.travel_speed(),
            width: match units {
                UnitSystem::Us => "in",
                UnitSystem::Metric => "mm",
            },
        },
        rules: JudgingRules::of(&Judging::of_site(page.site), units),
        welders: welders(page),
        checkpoints: days.into_iter().flat_map(|day| checkpoints(page, day)).collect(),
        running: running(page),
        last_words: page.last.map_or_else(LastWords::default, last_words),
        words: script_words(page.language),
    };
    serde_json::to_string(&data).ok()
}

fn instant(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}

fn welders(page: &CrewPage<'_>) -> Vec<WelderData> {
    let welders = page.site.welders.iter();
    welders
        .map(|welder| WelderData {
            range: WelderRange::of(welder),
            full_range: full_range(welder, page.site.units),
        })
        .collect()
}

fn checkpoints(page: &CrewPage<'_>, day: &CrewDay<'_>) -> Vec<CheckpointData> {
    let Ok(plan) = day.plan else { return Vec::new() };
    let all = standings(day, plan, page.language);
    all.into_iter().map(|standing| checkpoint(page, day, plan, standing)).collect()
}

fn checkpoint(
    page: &CrewPage<'_>,
    day: &CrewDay<'_>,
    plan: &DayPlan,
    standing: Standing<'_>,
) -> CheckpointData {
    let point = standing.point;
    let units = plan.units;
    let settings = point.settings.iter().map(|setting| SettingData {
        welder: setting.welder.clone(),
        speed: setting.trial.speed_held.and_then(|speed| of_speed(speed, units)),
        heats: setting.trial.heats.iter().filter_map(|heat| of_heat(*heat, units)).collect(),
    });
    CheckpointData {
        key: key(day, &point.id),
        id: point.id.clone(),
        date: day.date.to_string(),
        day: language_words::date_of_this_year(page.language, day.date),
        time: instant(point.time),
        over: instant(standing.over),
        allowed: standing.allowed.num_minutes(),
        made: standing.made,
        title: words::because(point, plan),
        standing: standing.words,
        settings: settings.collect(),
    }
}

/// By which page and scripts call a checkpoint.
pub(super) fn key(day: &CrewDay<'_>, id: &str) -> String {
    format!("{}/{id}", day.date)
}

fn running(page: &CrewPage<'_>) -> Vec<Running> {
    let trials = &page.today.report.trials;
    let welders = page.today.report.welders.iter();
    let newest = welders
        .filter_map(|day| trials.iter().rfind(|kept| kept.judged.trial.welder == day.welder));
    newest
        .map(|kept| {
            let figures = to_run(&kept.judged, page.site.units);
            Running {
                welder: kept.judged.trial.welder.clone(),
                at: instant(kept.when()),
                run: figures.is_some(),
                figures,
            }
        })
        .collect()
}

fn last_words(trial: &Trial) -> LastWords<'_> {
    LastWords {
        lot: trial.lot.as_deref(),
        roll: trial.roll.as_deref(),
        weights: trial.weights.as_deref(),
        air_flow: trial.air_flow.as_deref(),
    }
}
