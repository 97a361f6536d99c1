//! The days ahead of one roof, out of its forecast, and which of them are the worst.

use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::day::Workday;
use super::scalar::day_of;
use crate::plan::{DayPlan, Dry, PlanError, PlanInput, PlanWeather, TestCount, Topic, plan_day};
use crate::site::Site;
use crate::testweld::EarlierWindows;
use crate::units::Temperature;
use crate::weather::Forecast;

/// Times of tests are worth telling up to this many days after the day of planning.
const TIMES_FOR: TimeDelta = TimeDelta::days(3);

/// The days ahead of one roof.
#[derive(Debug, Clone, PartialEq)]
pub struct DaysAhead {
    /// Where the weather comes from; `None` where no day could be planned.
    pub weather: Option<PlanWeather>,
    /// Workdays, ascending.
    pub days: Vec<DayRow>,
}

/// One workday ahead.
#[derive(Debug, Clone, PartialEq)]
pub struct DayRow {
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// `None` where the forecast lacks air temperatures that the shift needs.
    pub ahead: Option<DayAhead>,
}

/// What the forecast makes of a workday.
#[derive(Debug, Clone, PartialEq)]
pub struct DayAhead {
    /// The day in numbers.
    pub work: Workday,
    /// When the tests fall due.
    pub test_times: Vec<DateTime<Utc>>,
    /// How many tests the day may take.
    pub likely: Option<TestCount>,
    /// Lowest and highest air of the shift.
    pub air: (Temperature, Temperature),
    /// Lowest and highest sheet of the shift.
    pub sheet: Option<(Temperature, Temperature)>,
    /// First minute that can be welded.
    pub first_weldable: Option<DateTime<Utc>>,
    /// When the sheet is dry, where the shift begins with a wet one.
    pub dry: Option<Dry>,
    /// The advice in a word.
    pub word: Word,
    /// Near enough that the times are worth telling; beyond, only the ranges are.
    pub times_hold: bool,
}

/// The advice of a day in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Word {
    /// Not a minute of the shift can be welded.
    NoWeld,
    /// What the most important advice of the day is about.
    Topic(Topic),
    /// Nothing to see to but a test that air or sheet asks for.
    Change,
    /// Nothing beyond the usual.
    Weld,
}

/// Which days are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reach {
    /// First calendar day.
    pub from: NaiveDate,
    /// Last calendar day; `None` for as far as the forecast goes.
    pub to: Option<NaiveDate>,
}

impl DayAhead {
    /// In how many of a hundred likely courses of the day a change of air or sheet asks for a test.
    #[expect(clippy::cast_precision_loss, reason = "a few hundred courses")]
    pub fn change_percent(&self) -> Option<f64> {
        let likely = self.likely.as_ref().filter(|likely| likely.courses > 0)?;
        Some(100.0 * likely.with_change as f64 / likely.courses as f64)
    }

    /// Minutes of work that the day takes: those lost to holds, and those of its test welds. The
    /// most is the worst.
    pub fn cost_minutes(&self, trial_minutes: u32) -> u32 {
        self.work.held.total() + self.work.tests.total() * trial_minutes
    }
}

impl DaysAhead {
    /// The most that a day of it costs; see [`DayAhead::cost_minutes`].
    pub fn worst_cost(&self, trial_minutes: u32) -> Option<u32> {
        self.days
            .iter()
            .filter_map(|row| row.ahead.as_ref())
            .map(|day| day.cost_minutes(trial_minutes))
            .max()
    }
}

impl Word {
    /// The word in every output.
    pub const fn name(self) -> &'static str {
        match self {
            Self::NoWeld => "no weld",
            Self::Topic(topic) => topic.name(),
            Self::Change => "change",
            Self::Weld => "weld",
        }
    }
}

/// What a site's days ahead depend on.
#[derive(Clone, Copy)]
pub struct AheadInput<'a> {
    /// The site.
    pub site: &'a Site,
    /// The zone of its shift.
    pub time_zone: Tz,
    /// The moment of planning.
    pub now: DateTime<Utc>,
    /// The weather.
    pub forecast: &'a Forecast,
    /// What worked before.
    pub earlier: &'a dyn EarlierWindows,
}

/// Plans every workday of `reach`. Days without air temperatures are rows without a day; those at
/// the end are left out where `reach` has no end of its own.
pub fn days_ahead(input: &AheadInput<'_>, reach: Reach) -> DaysAhead {
    let zone = input.time_zone;
    let today = input.now.with_timezone(&zone).date_naive();
    let last = reach.to.unwrap_or_else(|| input.forecast.last().with_timezone(&zone).date_naive());
    let dates = reach.from.iter_days().take_while(|date| *date <= last);
    let mut ahead = DaysAhead { weather: None, days: Vec::new() };
    for date in dates.filter(|date| input.site.shift.workdays.contains(&date.weekday())) {
        let AheadInput { site, time_zone, now, forecast, earlier } = *input;
        match plan_day(&PlanInput { site, time_zone, date, now, forecast, earlier }) {
            Ok(plan) => {
                let day = day_ahead(&plan, date - today <= TIMES_FOR);
                ahead.weather.get_or_insert(plan.weather);
                ahead.days.push(DayRow { date, ahead: day });
            }
            Err(PlanError::AirMissing { .. }) => ahead.days.push(DayRow { date, ahead: None }),
            Err(PlanError::ShiftVanishes { .. } | PlanError::DateOutOfReach { .. }) => {}
        }
    }
    if reach.to.is_none() {
        while ahead.days.pop_if(|row| row.ahead.is_none()).is_some() {}
    }
    ahead
}

/// What is told of a planned day.
fn day_ahead(plan: &DayPlan, times_hold: bool) -> Option<DayAhead> {
    let work = day_of(plan).workday?;
    Some(DayAhead {
        test_times: plan.checkpoints.iter().map(|point| point.time).collect(),
        likely: plan.summary.tests,
        air: (plan.summary.air_min, plan.summary.air_max),
        sheet: plan.summary.sheet,
        first_weldable: plan.summary.first_weldable,
        dry: plan.summary.dry,
        word: word(plan, &work),
        times_hold,
        work,
    })
}

fn word(plan: &DayPlan, work: &Workday) -> Word {
    if work.weldable_minutes == 0 {
        return Word::NoWeld;
    }
    // Generator and cord are the site's, a stale forecast is everybody's: neither tells days apart.
    let of_the_day = |topic: &Topic| !matches!(topic, Topic::Power | Topic::Forecast);
    let first = plan.advice.iter().map(crate::plan::Advice::topic).find(of_the_day);
    match first {
        Some(topic) => Word::Topic(topic),
        None if work.tests.weather_driven() > 0 => Word::Change,
        None => Word::Weld,
    }
}
