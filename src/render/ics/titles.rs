//! The line that rings: most phones show nothing else, and of this only the beginning.
//!
//! So the order is: what it is, what the first machine starts from, on which roof, the rest. The
//! hour is left out, since every phone shows it beside the title.

use crate::plan::{Checkpoint, DayPlan, Setting};
use crate::render::figures;
use crate::site::Reminders;
use crate::units::{Temperature, TemperatureDifference};
use crate::words::tell;

/// Longest name of a welder in a title, in characters.
const LONGEST_WELDER: usize = 24;
/// Longest name of a roof in the title of a test or a hold, in characters.
const LONGEST_ROOF: usize = 20;
/// Longest name of a roof in the title of the evening before, in characters.
const LONGEST_SITE: usize = 40;
/// Most kinds of setting that a title names.
const MOST_SETTINGS: usize = 2;
/// Parts of a title are joined by this.
const DOT: &str = " · ";

/// Welders that start alike.
struct Kind<'a> {
    trial: String,
    has_speed: bool,
    welders: Vec<&'a str>,
}

/// `Test weld · 7 ft/min 700–1100 by 100 °F · east bay`.
pub(super) fn test_title(plan: &DayPlan, checkpoint: &Checkpoint, reminders: &Reminders) -> String {
    let language = plan.language;
    let kinds = kinds(plan, &checkpoint.settings);
    let of_first = match kinds.as_slice() {
        [Kind { trial, welders, .. }] if welders.len() > 1 => Some((
            trial.clone(),
            Some(tell!(language, "summary-all-welders", count = welders.len())),
        )),
        [Kind { trial, .. }] => Some((trial.clone(), None)),
        [first, ..] => Some((named(first, &kinds), None)),
        [] => None,
    };
    let (first, for_all) = of_first.unzip();
    let others = kinds.iter().take(MOST_SETTINGS).skip(1).map(|kind| named(kind, &kinds));
    let unnamed = kinds.len().saturating_sub(MOST_SETTINGS);
    let more = (unnamed > 0).then(|| tell!(language, "summary-more", count = unnamed));
    let mut parts = vec![tell!(language, "summary-test")];
    parts.extend(first);
    parts.push(roof(plan, reminders));
    parts.extend(for_all.flatten());
    parts.extend(others);
    parts.extend(more);
    parts.join(DOT)
}

/// `HOLD until 13:05 · rain: no welding · east bay`.
pub(super) fn hold_title(plan: &DayPlan, end: &str, why: &str, reminders: &Reminders) -> String {
    [tell!(plan.language, "summary-hold", end, why), roof(plan, reminders)].join(DOT)
}

/// `Tomorrow: 3 test welds from 07:00 · 7 h 45 min weldable · Cold-store re-roof, east bay`.
pub(super) fn evening_title(plan: &DayPlan) -> String {
    let language = plan.language;
    let site = cut_at_end(&in_one_line(&plan.site), LONGEST_SITE);
    let weldable = figures::duration(plan.summary.weldable);
    match (plan.checkpoints.as_slice(), plan.summary.first_weldable) {
        ([first, rest @ ..], _) => {
            let time = figures::clock(first.time, plan.time_zone);
            match rest.len() + 1 {
                1 => tell!(language, "summary-tomorrow-one", time, weldable, site),
                count => tell!(language, "summary-tomorrow", count, time, weldable, site),
            }
        }
        ([], Some(_)) => tell!(language, "summary-tomorrow-untested", weldable, site),
        ([], None) => tell!(language, "summary-tomorrow-none", site),
    }
}

/// What starts alike is taken together; machines with a speed come first.
fn kinds<'a>(plan: &DayPlan, settings: &'a [Setting]) -> Vec<Kind<'a>> {
    let mut kinds: Vec<Kind<'a>> = Vec::new();
    for setting in settings {
        let trial = short_trial(plan, setting);
        match kinds.iter_mut().find(|known| known.trial == trial) {
            Some(known) => known.welders.push(&setting.welder),
            None => kinds.push(Kind {
                trial,
                has_speed: setting.trial.speed_held.is_some(),
                welders: vec![&setting.welder],
            }),
        }
    }
    kinds.sort_by_key(|kind| !kind.has_speed);
    kinds
}

/// With the welder's name, but for the only one of several that has a speed: that says which it is.
fn named(kind: &Kind<'_>, all: &[Kind<'_>]) -> String {
    let with_speed = all.iter().filter(|kind| kind.has_speed).count();
    if kind.has_speed && with_speed == 1 {
        return kind.trial.clone();
    }
    format!("{}: {}", short_names(&kind.welders), kind.trial)
}

/// `7 ft/min 825/925/1025 °F`, or `7 ft/min 700–1100 by 100 °F` where the heats are many.
fn short_trial(plan: &DayPlan, setting: &Setting) -> String {
    let heats = short_heats(plan, &setting.trial.heats);
    match setting.trial.speed_held {
        Some(speed) => format!("{} {heats}", figures::travel_speed(speed, plan.units)),
        None => heats,
    }
}

fn short_heats(plan: &DayPlan, heats: &[Temperature]) -> String {
    let unit = plan.units.temperature();
    let heat = |value: Temperature| figures::whole(value.in_units(plan.units));
    let [low, _, .., _, high] = heats else {
        let few: Vec<String> = heats.iter().map(|&value| heat(value)).collect();
        return format!("{} {unit}", few.join("/"));
    };
    let (low, high) = (heat(*low), heat(*high));
    match even_step(heats) {
        Some(step) => {
            let step = figures::whole(step.in_units(plan.units));
            tell!(plan.language, "summary-heats", low, high, step, unit)
        }
        None => format!("{low}–{high} {unit}"),
    }
}

fn short_names(welders: &[&str]) -> String {
    let first = welders
        .first()
        .map_or_else(String::new, |name| cut_at_end(&in_one_line(name), LONGEST_WELDER));
    match welders.len() {
        0 | 1 => first,
        many => format!("{first} +{}", many - 1),
    }
}

/// The roof's short name, or the middle left out of its long one: roofs of one customer often begin
/// alike, or end alike.
fn roof(plan: &DayPlan, reminders: &Reminders) -> String {
    let name = in_one_line(reminders.short_name.as_ref().unwrap_or(&plan.site));
    if name.chars().count() <= LONGEST_ROOF {
        return name;
    }
    let half = LONGEST_ROOF / 2;
    let head =
        whole_words(name.split(' '), half).unwrap_or_else(|| name.chars().take(half - 1).collect());
    let tail = whole_words(name.rsplit(' '), half).map_or_else(
        || {
            let from = name.chars().count() - half;
            name.chars().skip(from).collect()
        },
        |words| words.rsplit(' ').collect::<Vec<_>>().join(" "),
    );
    format!("{}…{tail}", head.trim_end_matches([',', ';', ':', '-', '–', ' ']))
}

/// As many of the words as fit, in their order; `None` where not even the first does.
fn whole_words<'a>(words: impl Iterator<Item = &'a str>, longest: usize) -> Option<String> {
    let mut fitting = String::new();
    for word in words {
        let blank = usize::from(!fitting.is_empty());
        if fitting.chars().count() + blank + word.chars().count() > longest {
            break;
        }
        if blank == 1 {
            fitting.push(' ');
        }
        fitting.push_str(word);
    }
    (!fitting.is_empty()).then_some(fitting)
}

fn in_one_line(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn cut_at_end(name: &str, longest: usize) -> String {
    if name.chars().count() <= longest {
        return name.to_owned();
    }
    let cut: String = name.chars().take(longest - 1).collect();
    format!("{}…", cut.trim_end())
}

/// The one step of a full range, whose last may be shorter (the machine's maximum ends it).
fn even_step(heats: &[Temperature]) -> Option<TemperatureDifference> {
    let mut steps = heats.windows(2).filter_map(|pair| match pair {
        [lower, higher] => Some(*higher - *lower),
        _ => None,
    });
    let step = steps.next()?;
    let last = steps.next_back()?;
    let same = |other: TemperatureDifference| other.reaches(step) && step.reaches(other);
    (steps.all(same) && step.reaches(last)).then_some(step)
}
