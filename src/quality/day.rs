//! The daily quality report: every checkpoint of the plan against every trial of the day.

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::checkpoint::{Kept, Status, WelderAtCheckpoint};
use super::kept::{KeptTrial, WithdrawnTrial};
use super::kept_plan::{KeptPlan, PlanAtHand};
use crate::plan::shift_date;
use crate::site::Site;
use crate::units::Temperature;

/// What a report is made of.
#[derive(Debug, Clone, Copy)]
pub struct ReportInput<'a> {
    /// The site.
    pub site: &'a Site,
    /// The zone of its shift.
    pub time_zone: Tz,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// Our clock: what is not due yet is not missed.
    pub now: DateTime<Utc>,
    /// The plan of that day, where it is at hand.
    pub plan: Option<&'a PlanAtHand>,
    /// Every trial of the book, in any order.
    pub trials: &'a [KeptTrial],
    /// Trials that were withdrawn: told, and counted for nothing.
    pub withdrawn: &'a [WithdrawnTrial],
}

/// One day for the file.
#[derive(Debug, Clone, PartialEq)]
pub struct DayReport {
    /// Name of the site.
    pub site: String,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// When the report was made.
    pub made_at: DateTime<Utc>,
    /// The plan of that day, where it is at hand.
    pub plan: Option<PlanAtHand>,
    /// Every checkpoint of the plan; empty without one.
    pub checkpoints: Vec<TestedCheckpoint>,
    /// Every trial of the day, oldest first.
    pub trials: Vec<KeptTrial>,
    /// Air as the plan forecasts it for the minute of each trial, in the order of `trials`.
    pub air_forecast: Vec<Option<Temperature>>,
    /// Every welder of the site.
    pub welders: Vec<WelderDay>,
    /// Trials of the day that were withdrawn, oldest first.
    pub withdrawn: Vec<WithdrawnTrial>,
}

/// A checkpoint and what was done for it.
#[derive(Debug, Clone, PartialEq)]
pub struct TestedCheckpoint {
    /// Its id in the plan.
    pub id: String,
    /// When it fell due.
    pub due: DateTime<Utc>,
    /// The worst over the welders that were tested at all on the day; over all where none was.
    pub status: Status,
    /// In the site's order.
    pub welders: Vec<WelderAtCheckpoint>,
}

/// A welder and its day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WelderDay {
    /// Its name.
    pub welder: String,
    /// How many trials were made on it.
    pub trials: usize,
}

/// Holds the trials of a day against its plan.
///
/// A trial belongs to the day whose shift it was made in, or else to its local date. Each trial
/// counts for one checkpoint: the one that it names, if the plan has it; else the earliest that
/// takes it and has no conclusive trial yet.
pub fn day_report(input: &ReportInput<'_>) -> DayReport {
    let ReportInput { site, time_zone, date, now, plan, .. } = *input;
    let is_of_day = |kept: &KeptTrial| shift_date(site, time_zone, kept.when()) == date;
    let mut trials: Vec<KeptTrial> =
        input.trials.iter().filter(|kept| is_of_day(kept)).cloned().collect();
    let withdrawn = input.withdrawn.iter().filter(|withdrawn| is_of_day(&withdrawn.trial));
    let mut withdrawn: Vec<WithdrawnTrial> = withdrawn.cloned().collect();
    withdrawn.sort_by_key(|withdrawn| withdrawn.trial.when());
    trials.sort_by(|one, other| one.when().cmp(&other.when()).then_with(|| one.id.cmp(&other.id)));
    let mut welders: Vec<WelderDay> = Vec::new();
    let named = site.welders.iter().map(|welder| welder.name.as_str());
    for name in named.chain(trials.iter().map(|kept| kept.judged.trial.welder.as_str())) {
        if !welders.iter().any(|known| known.welder == name) {
            let made = trials.iter().filter(|kept| kept.judged.trial.welder == name).count();
            welders.push(WelderDay { welder: name.to_owned(), trials: made });
        }
    }
    let checkpoints = plan.map(|plan| checkpoints(&plan.plan, &trials, &welders, now));
    DayReport {
        site: site.name.clone(),
        date,
        made_at: now,
        checkpoints: checkpoints.unwrap_or_default(),
        air_forecast: trials.iter().map(|kept| plan?.plan.air_at(kept.when())).collect(),
        plan: plan.cloned(),
        trials,
        welders,
        withdrawn,
    }
}

impl DayReport {
    /// How many checkpoints came to `wanted`.
    pub fn count(&self, wanted: fn(Status) -> bool) -> usize {
        self.checkpoints.iter().filter(|point| wanted(point.status)).count()
    }
}

fn checkpoints(
    plan: &KeptPlan,
    trials: &[KeptTrial],
    welders: &[WelderDay],
    now: DateTime<Utc>,
) -> Vec<TestedCheckpoint> {
    let spans: Vec<Kept> = (0..plan.checkpoints.len())
        .filter_map(|index| {
            let next = plan.checkpoints.get(index + 1);
            Some(Kept::of(plan.checkpoints.get(index)?, next, plan.shift_end))
        })
        .collect();
    let mut tested: Vec<TestedCheckpoint> = plan
        .checkpoints
        .iter()
        .map(|point| TestedCheckpoint {
            id: point.id.clone(),
            due: point.time,
            status: Status::NotDue,
            welders: Vec::new(),
        })
        .collect();
    let planned = plan.checkpoints.iter().flat_map(|point| &point.welders);
    let mut names: Vec<&str> = Vec::new();
    for name in planned {
        if !names.contains(&name.as_str()) {
            names.push(name);
        }
    }
    for name in names {
        for (point, (kept, places)) in
            tested.iter_mut().zip(spans.iter().zip(share_out(name, plan, trials, &spans)))
        {
            let of_point: Vec<&KeptTrial> =
                places.iter().filter_map(|place| trials.get(*place)).collect();
            let status = kept.status(&of_point, now);
            let welder = name.to_owned();
            point.welders.push(WelderAtCheckpoint { welder, status, trials: places });
        }
    }
    for point in &mut tested {
        point.status = overall(point, welders);
    }
    tested
}

/// The trials of one welder for each checkpoint.
fn share_out(
    welder: &str,
    plan: &KeptPlan,
    trials: &[KeptTrial],
    spans: &[Kept],
) -> Vec<Vec<usize>> {
    let mut shares =
        Shares { places: vec![Vec::new(); spans.len()], kept: vec![false; spans.len()] };
    let of_welder = trials.iter().enumerate();
    let of_welder = of_welder.filter(|(_, trial)| trial.judged.trial.welder == welder);
    let mut by_time = Vec::new();
    for (place, trial) in of_welder {
        match named(plan, trial, spans) {
            Some(index) => shares.give(index, place, trial),
            None => by_time.push((place, trial)),
        }
    }
    for (place, trial) in by_time {
        let takes = |index: &usize| spans.get(*index).is_some_and(|span| span.takes(trial.when()));
        let fitting: Vec<usize> = (0..spans.len()).filter(takes).collect();
        // A second trial for a checkpoint that is kept belongs to the newest that takes it.
        let open = fitting.iter().find(|index| shares.kept.get(**index) == Some(&false));
        if let Some(&index) = open.or(fitting.last()) {
            shares.give(index, place, trial);
        }
    }
    for share in &mut shares.places {
        share.sort_unstable();
    }
    shares.places
}

/// What each checkpoint has so far.
struct Shares {
    /// Its trials.
    places: Vec<Vec<usize>>,
    /// Whether one of them is conclusive.
    kept: Vec<bool>,
}

impl Shares {
    fn give(&mut self, index: usize, place: usize, trial: &KeptTrial) {
        if let Some(share) = self.places.get_mut(index) {
            share.push(place);
        }
        if let Some(kept) = self.kept.get_mut(index) {
            *kept |= trial.judged.is_conclusive();
        }
    }
}

/// The checkpoint that the trial itself names, if the plan has it and it can be true.
fn named(plan: &KeptPlan, trial: &KeptTrial, spans: &[Kept]) -> Option<usize> {
    let id = trial.checkpoint.as_ref()?;
    let index = plan.checkpoints.iter().position(|point| point.id == *id)?;
    let believed = spans.get(index)?.believes(plan.checkpoints.get(index)?, trial.when());
    believed.then_some(index)
}

/// A welder without any trial on the day may have stood in its box; it is named elsewhere.
fn overall(point: &TestedCheckpoint, welders: &[WelderDay]) -> Status {
    let in_use = |one: &&WelderAtCheckpoint| {
        welders.iter().any(|day| day.welder == one.welder && day.trials > 0)
    };
    let worst = |states: Vec<Status>| states.into_iter().reduce(Status::worse);
    let used = point.welders.iter().filter(in_use).map(|one| one.status).collect();
    let all = point.welders.iter().map(|one| one.status).collect();
    worst(used).or_else(|| worst(all)).unwrap_or(Status::NotDue)
}
