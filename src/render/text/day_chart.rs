//! The hours of the shift, one line each: air with a bar, wind, rain, verdict, tests.

use chrono::TimeDelta;

use super::page::verdict_width;
use super::{COLUMNS, Paint};
use crate::plan::{DayPlan, PlanHour};
use crate::render::{figures, words};
use crate::units::{Temperature, UnitSystem};
use crate::words::tell;

/// Longest bar, in characters, where the words of the language leave room for it.
const LONGEST_BAR: usize = 18;
/// Shortest longest bar.
const SHORTEST_BAR: usize = 8;
/// Where tests and reasons stand, so that there is room for them.
const TOLD_FROM: usize = 63;

/// Heads of the columns of numbers and their widths, which follow the language.
struct Columns {
    air: (String, usize),
    gust: (String, usize),
    rain: (String, usize),
    verdict: usize,
    bar: usize,
}

impl Columns {
    fn of(plan: &DayPlan) -> Self {
        let (language, units) = (plan.language, plan.units);
        let column = |head: String, least: usize| {
            let width = head.chars().count().max(least);
            (head, width)
        };
        let mut columns = Self {
            air: column(tell!(language, "hours-air", unit = units.temperature()), 6),
            gust: column(tell!(language, "hours-gust", unit = units.wind()), 9),
            rain: column(tell!(language, "hours-rain", unit = units.rain()), 8),
            verdict: verdict_width(language),
            bar: 0,
        };
        let room = TOLD_FROM.saturating_sub(columns.told_from());
        columns.bar = room.clamp(SHORTEST_BAR, LONGEST_BAR);
        columns
    }

    /// After hour, air, bar, gust, rain and verdict.
    const fn told_from(&self) -> usize {
        16 + self.bar + self.air.1 + self.gust.1 + self.rain.1 + self.verdict
    }
}

/// One line for each hour, under a line of headings.
pub(super) fn day_chart(plan: &DayPlan, paint: Paint) -> Vec<String> {
    let columns = Columns::of(plan);
    let Columns { air: (air, air_wide), gust: (gust, gust_wide), rain: (rain, rain_wide), .. } =
        &columns;
    let heading = format!(
        "  {:<6}{air:>air_wide$}  {:<bar$}  {gust:>gust_wide$}  {rain:>rain_wide$}  {:<wide$}{}",
        "",
        "",
        "",
        tell!(plan.language, "hours-tests"),
        bar = columns.bar,
        wide = columns.verdict,
    );
    let range = range(&plan.hours);
    let lines = plan.hours.iter().flat_map(|hour| hour_lines(plan, hour, range, &columns, paint));
    std::iter::once(heading.trim_end().to_owned()).chain(lines).collect()
}

/// One line, and more under its end where there is much to say.
fn hour_lines(
    plan: &DayPlan,
    hour: &PlanHour,
    range: Option<(Temperature, Temperature)>,
    columns: &Columns,
    paint: Paint,
) -> Vec<String> {
    let units = plan.units;
    let unknown = || "?".to_owned();
    let air = hour.air.map_or_else(unknown, |air| figures::whole(air.in_units(units)));
    // Where no gust is given the mean wind is the least that the gust can be.
    let gust = match (hour.gust, hour.wind) {
        (Some(gust), _) => figures::whole(gust.in_units(units)),
        (None, Some(wind)) => format!(">{}", figures::whole(wind.in_units(units))),
        (None, None) => unknown(),
    };
    let rain = hour.rain.map_or_else(unknown, |rain| rain_figure(rain.in_units(units), units));
    let (air_wide, gust_wide, rain_wide) = (columns.air.1, columns.gust.1, columns.rain.1);
    let longest = columns.bar;
    let word = words::verdict(plan.language, hour.verdict);
    let verdict = format!("{word:<wide$}", wide = columns.verdict);
    let line = format!(
        "  {:<6}{air:>air_wide$}  {:<longest$}  {gust:>gust_wide$}  {rain:>rain_wide$}  {}",
        figures::clock_in_a_row(hour.time, plan.time_zone),
        bar(hour.air, range, longest),
        paint.verdict(hour.verdict, &verdict),
    );
    let told = tests_in(plan, hour);
    let told_from = columns.told_from();
    let mut told = textwrap::wrap(&told, COLUMNS - told_from).into_iter();
    let first = format!("{line}{}", told.next().unwrap_or_default()).trim_end().to_owned();
    let rest = told.map(|more| format!("{:told_from$}{}", "", more.trim_start()));
    std::iter::once(first).chain(rest).collect()
}

/// `.` for none, so that rain stands out.
fn rain_figure(amount: f64, units: UnitSystem) -> String {
    let decimals = match units {
        UnitSystem::Us => 2,
        UnitSystem::Metric => 1,
    };
    if amount <= 0.0 { ".".to_owned() } else { format!("{amount:.decimals$}") }
}

/// Times of the tests in the hour, or in words why it is no plain welding hour.
fn tests_in(plan: &DayPlan, hour: &PlanHour) -> String {
    let until = hour.time + TimeDelta::hours(1);
    let tests: Vec<String> = plan
        .checkpoints
        .iter()
        .filter(|point| hour.time <= point.time && point.time < until)
        .map(|point| figures::clock(point.time, plan.time_zone))
        .collect();
    let mut parts = tests;
    if !hour.reasons.is_empty() {
        parts.push(words::reasons_short(plan.language, &hour.reasons));
    }
    parts.join("  ")
}

fn range(hours: &[PlanHour]) -> Option<(Temperature, Temperature)> {
    let mut known = hours.iter().filter_map(|hour| hour.air);
    let first = known.next()?;
    Some(known.fold((first, first), |(low, high), air| (low.min(air), high.max(air))))
}

/// The coldest hour has the shortest bar, the warmest the longest.
fn bar(
    air: Option<Temperature>,
    range: Option<(Temperature, Temperature)>,
    longest: usize,
) -> String {
    let (Some(air), Some((low, high))) = (air, range) else { return String::new() };
    let swing = (high - low).kelvin();
    let share = if swing > 0.0 { (air - low).kelvin() / swing } else { 0.0 };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "between 1 and the longest"
    )]
    let length = 1 + (share * (longest - 1) as f64).round() as usize;
    "#".repeat(length.min(longest))
}
