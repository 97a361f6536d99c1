//! The parts of the day: what is next, the list, what was made, the cautions.

use super::data::key;
use super::figures_of::{speed_held, to_run};
use super::markup::{Markup, element, element_of, text};
use super::standing::{Standing, standings};
use super::{CrewDay, CrewPage};
use crate::plan::{DayPlan, Setting};
use crate::render::{OFFICE, advice_words, figures, start_words, words};
use crate::words::{self as days, Language, tell};

pub(super) fn date(page: &CrewPage<'_>) -> String {
    days::date_of_this_year(page.language, page.today.date)
}

/// An old forecast, and how the forecast came.
pub(super) fn weather(page: &CrewPage<'_>) -> Markup {
    let plan = page.today.plan.ok();
    let stale = plan.filter(|plan| plan.weather.stale).map(|plan| {
        let age = figures::duration(plan.weather.age);
        element_of("p", &[("class", "stale")], &tell!(page.language, "crew-stale", age))
    });
    let warned = warned(page).into_iter();
    let warnings = warned.map(|said| element_of("p", &[("class", "hint")], &said));
    element("div", &[("id", "weather")], stale.into_iter().chain(warnings).collect())
}

/// How the forecast came is told in the office's language; whoever reads another is sent there.
fn warned(page: &CrewPage<'_>) -> Vec<String> {
    match page.warnings {
        [] => Vec::new(),
        warnings if page.language == OFFICE => warnings.to_vec(),
        _ => vec![tell!(page.language, "crew-warned")],
    }
}

/// What the next one is by the server's clock; the script keeps it right.
pub(super) fn next(page: &CrewPage<'_>) -> Markup {
    let language = page.language;
    let title = section_title("next-title", &tell!(language, "crew-next"));
    let all = [&page.today, &page.tomorrow].into_iter().filter_map(|day| {
        let plan = day.plan.ok()?;
        let open = standings(day, plan, language);
        let open = open.into_iter().find(|one| !one.made && page.now < one.over)?;
        Some((day, plan, open))
    });
    let found = all.into_iter().next();
    let hidden = |on: bool| on.then_some(("hidden", "hidden"));
    let none_attributes = [("id", "next-none")].into_iter().chain(hidden(found.is_some()));
    let none =
        element_of("p", &none_attributes.collect::<Vec<_>>(), &tell!(language, "crew-next-none"));
    let some_attributes = [("id", "next-some")].into_iter().chain(hidden(found.is_none()));
    let some = element("div", &some_attributes.collect::<Vec<_>>(), next_parts(page, found));
    section("next", "next-title", [title, none, some].into())
}

fn next_parts(
    page: &CrewPage<'_>,
    found: Option<(&CrewDay<'_>, &DayPlan, Standing<'_>)>,
) -> Markup {
    let clock = found
        .as_ref()
        .map_or_else(String::new, |(_, plan, one)| figures::clock(one.point.time, plan.time_zone));
    let body = found.map_or_else(Markup::default, |(_, plan, one)| body(plan, &one, page.language));
    let record = [("type", "button"), ("id", "record-next"), ("class", "first")];
    let when = [
        element_of("time", &[("id", "next-clock"), ("class", "figure huge")], &clock),
        element_of("span", &[("id", "next-countdown"), ("class", "countdown")], ""),
        element_of("span", &[("id", "next-day"), ("class", "hint")], ""),
    ];
    Markup::from([
        element("p", &[("class", "when")], when.into()),
        element("div", &[("id", "next-body")], body),
        element_of("button", &record, &tell!(page.language, "crew-record-next")),
    ])
}

/// Filled by the script, which knows what is not sent yet as well.
pub(super) fn running(language: Language) -> Markup {
    let title = section_title("running-title", &tell!(language, "crew-running"));
    let list = element("ul", &[("id", "running-list"), ("class", "plain")], Markup::default());
    let named = [("id", "running"), ("aria-labelledby", "running-title"), ("hidden", "hidden")];
    element("section", &named, [title, list].into())
}

pub(super) fn list(page: &CrewPage<'_>) -> Markup {
    let of_day = |day: &CrewDay<'_>, id: &str, title: &str| {
        let named = format!("{id}-title");
        let items = match day.plan {
            Ok(plan) => element(
                "ol",
                &[("class", "plain")],
                standings(day, plan, page.language)
                    .iter()
                    .map(|standing| item(page, day, plan, standing))
                    .collect(),
            ),
            Err(why) => element_of("p", &[], &tell!(page.language, "crew-no-plan", why)),
        };
        section(id, &named, [section_title(&named, title), items].into())
    };
    let date = |day: &CrewDay<'_>| days::date_of_this_year(page.language, day.date);
    let today = format!("{}: {}", tell!(page.language, "crew-today"), date(&page.today));
    let tomorrow = format!("{}: {}", tell!(page.language, "crew-tomorrow"), date(&page.tomorrow));
    let days =
        [of_day(&page.today, "today", &today), of_day(&page.tomorrow, "tomorrow", &tomorrow)];
    element("div", &[("id", "list")], days.into())
}

fn item(page: &CrewPage<'_>, day: &CrewDay<'_>, plan: &DayPlan, standing: &Standing<'_>) -> Markup {
    let clock = figures::clock(standing.point.time, plan.time_zone);
    let summary = [
        element_of("span", &[("class", "figure")], &clock),
        element_of("span", &[("class", "title")], &words::because(standing.point, plan)),
        element_of("span", &[("class", &format!("standing {}", standing.name))], &standing.words),
    ];
    let details = [
        element("summary", &[], summary.into()),
        element("div", &[("class", "body")], body(plan, standing, page.language)),
    ];
    let details = element("details", &[], details.into());
    element("li", &[("data-key", &key(day, &standing.point.id))], details)
}

/// Why, and for each welder the figures to begin with.
fn body(plan: &DayPlan, standing: &Standing<'_>, language: Language) -> Markup {
    let point = standing.point;
    let sure = point.likelihood.as_ref().map(|sure| {
        element_of("p", &[("class", "hint")], &words::likelihood(language, sure, plan.time_zone))
    });
    let why = element_of("p", &[("class", "cause")], &words::because(point, plan));
    let settings = point.settings.iter().map(|one| setting(plan, one, language));
    [why].into_iter().chain(sure).chain(settings).collect()
}

fn setting(plan: &DayPlan, setting: &Setting, language: Language) -> Markup {
    let units = plan.units;
    let row = |name: &str, value: Markup| {
        element("div", &[], [element_of("dt", &[], name), element("dd", &[], value)].into())
    };
    let with_unit = |figure: &str, unit: &str| {
        let figure = element_of("span", &[("class", "figure")], figure);
        Markup::from([figure, text(" "), element_of("span", &[("class", "unit")], unit)])
    };
    let speed = speed_held(setting, units).map_or_else(
        || text(&tell!(language, "crew-by-hand")),
        |speed| with_unit(&speed, units.travel_speed()),
    );
    let heats: Vec<String> =
        setting.trial.heats.iter().map(|heat| figures::whole(heat.in_units(units))).collect();
    let rows = [
        row(&tell!(language, "crew-speed"), speed),
        row(&tell!(language, "crew-heats"), with_unit(&heats.join(" "), units.temperature())),
    ];
    let because = start_words::trial_because(language, setting, units);
    let parts = [
        element_of("h3", &[("dir", "auto")], &setting.welder),
        element("dl", &[("class", "figures")], rows.into()),
        element_of("p", &[("class", "hint")], &because),
    ];
    element("div", &[("class", "setting")], parts.into())
}

/// The day's trials, oldest first.
pub(super) fn tested(page: &CrewPage<'_>) -> Markup {
    let language = page.language;
    let rows = page.today.report.trials.iter().map(|kept| {
        let trial = &kept.judged.trial;
        let setting = to_run(&kept.judged, page.site.units)
            .unwrap_or_else(|| tell!(language, "crew-do-not-weld"));
        let line = tell!(
            language,
            "crew-tested-line",
            time = figures::clock(trial.when, page.zone),
            welder = trial.welder.as_str(),
            setting,
        );
        let by = tell!(language, "crew-by", who = trial.who.as_str());
        let by = element_of("span", &[("class", "hint"), ("dir", "auto")], &by);
        element("li", &[], [text(&line), text(" "), by].into())
    });
    let rows: Markup = rows.collect();
    let rows = if rows.is_empty() {
        element_of("p", &[], &tell!(language, "crew-tested-none"))
    } else {
        element("ol", &[("class", "plain")], rows)
    };
    let title = section_title("tested-title", &tell!(language, "crew-tested"));
    section("tested", "tested-title", [title, rows].into())
}

/// When it can be welded, what the plan bends, what to see to.
pub(super) fn notes(page: &CrewPage<'_>) -> Markup {
    let Ok(plan) = page.today.plan else {
        return element("div", &[("id", "notes")], Markup::default());
    };
    let language = page.language;
    let spans = plan.spans.iter().map(|span| {
        let clock = |at| figures::clock(at, plan.time_zone);
        let reasons: Vec<String> =
            span.reasons.iter().map(|reason| words::reason(language, reason, plan.units)).collect();
        let word = words::verdict(language, span.verdict);
        let parts = [
            element_of(
                "span",
                &[("class", "figure")],
                &format!("{}–{}", clock(span.start), clock(span.end)),
            ),
            text(" "),
            element_of("strong", &[("class", span.verdict.name())], &word),
            text(&format!(" {}", reasons.join("; "))),
        ];
        element("li", &[], parts.into())
    });
    let spans = element("ul", &[("class", "plain spans")], spans.collect());
    let stand_by = plan.stand_by.iter().map(|test| words::stand_by(language, test, plan.time_zone));
    let notes = plan.notes.iter().map(|note| words::note(note, plan));
    let advice = plan.advice.iter().map(|advice| advice_words::advice(advice, plan));
    let said: Markup =
        stand_by.chain(notes).chain(advice).map(|said| element_of("li", &[], &said)).collect();
    let spans = [section_title("spans-title", &tell!(language, "crew-spans")), spans];
    let spans = section("spans", "spans-title", spans.into());
    let notes = if said.is_empty() {
        said
    } else {
        let title = section_title("said-title", &tell!(language, "crew-notes"));
        section("said", "said-title", [title, element("ul", &[], said)].into())
    };
    element("div", &[("id", "notes")], [spans, notes].into())
}

pub(super) fn how(page: &CrewPage<'_>) -> Markup {
    let how = advice_words::how_to_test(page.language, page.site.units);
    let items = how.iter().map(|said| element_of("li", &[], said)).collect();
    let summary = element_of("summary", &[], &tell!(page.language, "crew-how"));
    element("details", &[("id", "how")], [summary, element("ol", &[], items)].into())
}

pub(super) fn cautions(language: Language) -> Markup {
    let cautions = advice_words::cautions(language);
    let items = cautions.iter().map(|caution| element_of("li", &[], caution)).collect();
    let title = section_title("cautions-title", &tell!(language, "crew-cautions"));
    section("cautions", "cautions-title", [title, element("ul", &[], items)].into())
}

pub(super) fn credit(page: &CrewPage<'_>) -> Markup {
    let plan = page.today.plan.or(page.tomorrow.plan).ok();
    plan.map_or_else(Markup::default, |plan| {
        let line = words::weather_line(page.language, &plan.weather, plan.time_zone);
        let parts = [element_of("p", &[], &line), element_of("p", &[], &plan.weather.attribution)];
        element("div", &[("class", "credit")], parts.into())
    })
}

fn section_title(id: &str, title: &str) -> Markup {
    element_of("h2", &[("id", id)], title)
}

fn section(id: &str, named: &str, body: Markup) -> Markup {
    element("section", &[("id", id), ("aria-labelledby", named)], body)
}
