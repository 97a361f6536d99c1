//! From past years to their JSON.

use super::from_ahead::{VERSION, failed_site, head, spread};
use super::from_job::job_moves;
use super::wire::{
    Budget, Days, Finish, FinishYear, Lost, Mode, OutlookJson, Record, Shares, Site, Spread,
    written,
};
use super::years_tables::{by_month, by_season, by_week, by_weekday, month_name};
use crate::render::json::Figure;
use crate::season::{self, Failed, FinishOdds, Hold, MonthBudget, SiteHead, SiteYears, Tally};
use crate::units::Length;

/// Past years as JSON, by `docs/outlook.schema.json`.
pub fn years_json(sites: &[SiteYears], failed: &[Failed]) -> String {
    written(&OutlookJson {
        fairseam: VERSION,
        mode: Mode::YearsBehind,
        sites: sites.iter().map(site).collect(),
        failed: failed.iter().map(failed_site).collect(),
        order: None,
    })
}

fn site(site: &SiteYears) -> Site {
    let each = |group: Vec<(String, Tally)>| -> Vec<Days> {
        group.iter().map(|(name, tally)| days(&site.head, name, tally)).collect()
    };
    let mut months = by_month(site);
    months.pop();
    let years = site.record.years.iter();
    let record = Record {
        lost_percent: site.cost_percent().and_then(|percent| Figure::rounded(percent, 1)),
        whole: days(&site.head, "all", &site.record.whole),
        years: each(years.map(|(year, tally)| (year.to_string(), tally.clone())).collect()),
        months: each(months),
        weeks: each(by_week(site)),
        weekdays: each(by_weekday(site)),
        seasons: each(by_season(site)),
        budget: site.record.budget.iter().map(budget).collect(),
        finish: site.record.finish.as_ref().map(|odds| finish(&site.head, odds)),
        moves: site.record.moves.as_ref().map(|moves| job_moves(&site.head, moves)),
    };
    let notes = site.notes.clone();
    Site { record: Some(record), notes, ..head(&site.head, Some(site.attribution.clone())) }
}

fn days(head: &SiteHead, of: &str, tally: &Tally) -> Days {
    let [none, one, two, three, more] = tally.days_with;
    let share = |days: u32| tally.percent(days).and_then(|percent| Figure::rounded(percent, 1));
    let lost = |hold: Hold| {
        let at = Hold::ALL.iter().position(|other| *other == hold)?;
        hours(*tally.held_in_all.get(at)?)
    };
    Days {
        of: of.to_owned(),
        workdays: tally.workdays,
        covered: tally.covered,
        partly_known: tally.partly_known,
        tests: counts(tally.tests.as_ref()),
        tests_in_all: tally.tests_in_all,
        percent_of_days: (tally.covered > 0).then(|| Shares {
            none_or_one: share(none + one),
            two: share(two),
            three: share(three),
            four_or_more: share(more),
        }),
        weldable_hours: each(tally.weldable.as_ref(), hours),
        weldable_hours_in_all: hours(tally.weldable_in_all),
        lost_hours: Lost {
            snow: lost(Hold::Snow),
            rain: lost(Hold::Rain),
            thunder: lost(Hold::Thunder),
            wet_sheet: lost(Hold::WetSheet),
            wind_stop: lost(Hold::WindStop),
        },
        dew_days: tally.dew_days(),
        dew_delay_minutes: counts(tally.dew.delay.as_ref()),
        earliest_start: tally.first_weldable.map(|(first, _)| head.clock_after(first)),
        latest_start: tally.first_weldable.map(|(_, last)| head.clock_after(last)),
        never_weldable: tally.never_weldable,
    }
}

fn budget(budget: &MonthBudget) -> Budget {
    let minutes = budget.minutes.as_ref();
    let money = |value: Option<f64>| value.and_then(|value| Figure::rounded(value, 2));
    Budget {
        month: month_name(budget.month),
        months_counted: budget.complete,
        months_with_gaps: budget.with_gaps,
        minutes: counts(minutes),
        crew_hours: each(minutes, |minutes| money(budget.crew_hours(minutes))),
        cost: each(minutes, |minutes| money(budget.cost(minutes))),
    }
}

fn finish(head: &SiteHead, odds: &FinishOdds) -> Finish {
    let length = |length: Length| Figure::rounded(length.in_units(head.units), 0);
    let year = |year: &season::FinishYear| FinishYear {
        year: year.year,
        done_on: year.done_on.map(|date| date.to_string()),
        seam: length(Length::from_meters(year.seam_m)),
        uncovered: year.uncovered,
    };
    Finish {
        footage: length(odds.question.footage),
        start: odds.question.start.to_string(),
        finish: odds.question.finish.to_string(),
        decided: odds.decided(),
        finished: odds.finished(),
        percent: odds.percent().and_then(|percent| Figure::rounded(percent, 0)),
        years: odds.years.iter().map(year).collect(),
    }
}

fn counts(values: Option<&season::Spread<u32>>) -> Option<Spread> {
    each(values, |count| Figure::rounded(f64::from(count), 0))
}

fn each(
    values: Option<&season::Spread<u32>>,
    show: impl Fn(u32) -> Option<Figure>,
) -> Option<Spread> {
    let values = values?;
    spread([values.p10, values.p50, values.p90].map(show))
}

fn hours(minutes: u32) -> Option<Figure> {
    Figure::rounded(f64::from(minutes) / 60.0, 2)
}
