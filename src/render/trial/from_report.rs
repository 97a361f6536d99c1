//! From trials, days and months to their JSON shapes.

use super::from_judged::{VERSION, pretty};
use super::from_trial::DECIMALS;
use super::report_text::because;
use super::wire_report::{
    BookJson, CheckpointJson, CorrectedJson, EarlierJson, KeptJson, MonthDayJson, MonthJson,
    PlanAtHandJson, RanAtJson, ReportHourJson, ReportJson, ReportWeatherJson, StatusWord,
    WelderJson, WelderStatusJson, WithdrawalJson, WithdrawnJson,
};
use super::{Show, certifies_nothing};
use crate::quality::{
    Correction, DayReport, KeptHour, KeptTrial, MonthSummary, PlanAtHand, Status,
    WelderAtCheckpoint, Withdrawal, WithdrawnTrial,
};
use crate::render::json::Figure;
use crate::units::Temperature;

/// Trials as JSON, oldest first; `None` where a number of a trial is none.
pub fn book_json(
    show: Show,
    site: &str,
    trials: &[KeptTrial],
    withdrawn: &[WithdrawnTrial],
) -> Option<String> {
    let mut trials: Vec<&KeptTrial> = trials.iter().collect();
    trials.sort_by(|one, other| one.when().cmp(&other.when()).then_with(|| one.id.cmp(&other.id)));
    pretty(&BookJson {
        fairseam: VERSION,
        site: site.to_owned(),
        trials: trials.into_iter().map(|kept| show.kept(kept)).collect::<Option<_>>()?,
        withdrawn: show.all_withdrawn(withdrawn)?,
        caution: certifies_nothing(show.language),
    })
}

/// The daily report as JSON; `None` where a number of a trial is none.
pub fn report_json(show: Show, report: &DayReport) -> Option<String> {
    let checkpoints = report.checkpoints.iter().map(|point| CheckpointJson {
        id: point.id.clone(),
        due: show.instant(point.due),
        because: because(report, &point.id),
        air: air(report, &point.id).and_then(|air| show.temperature(air)),
        status: status_word(point.status),
        welders: point.welders.iter().map(|one| welder_status(report, one)).collect(),
    });
    pretty(&ReportJson {
        fairseam: VERSION,
        site: report.site.clone(),
        date: report.date.to_string(),
        time_zone: show.zone.name().to_owned(),
        units: show.units_word(),
        made_at: show.instant(report.made_at),
        plan: report.plan.as_ref().map(|at_hand| show.plan_at_hand(at_hand)),
        weather: report.plan.as_ref().map(|at_hand| show.report_weather(at_hand)),
        checkpoints: checkpoints.collect(),
        welders: report
            .welders
            .iter()
            .map(|day| WelderJson { welder: day.welder.clone(), trials: day.trials })
            .collect(),
        trials: report
            .trials
            .iter()
            .zip(&report.air_forecast)
            .map(|(kept, forecast)| {
                let mut kept = show.kept(kept)?;
                kept.air_forecast = kept.air_forecast.or_else(|| show.temperature((*forecast)?));
                Some(kept)
            })
            .collect::<Option<_>>()?,
        withdrawn: show.all_withdrawn(&report.withdrawn)?,
        caution: certifies_nothing(show.language),
    })
}

/// A month as JSON.
pub fn month_json(site: &str, month: &MonthSummary) -> Option<String> {
    pretty(&MonthJson {
        fairseam: VERSION,
        site: site.to_owned(),
        month: month.month.format("%Y-%m").to_string(),
        planned: month.planned(),
        made: month.made(),
        late: month.late(),
        missed: month.missed(),
        trials: month.trials(),
        withdrawn: month.withdrawn(),
        minutes_spent: month.minutes_spent(),
        days_without_plan: month.days_without_plan(),
        days: month
            .days
            .iter()
            .map(|day| MonthDayJson {
                date: day.date.to_string(),
                planned: day.planned,
                planned_again: day.planned_again,
                made: day.made,
                late: day.late,
                missed: day.missed,
                trials: day.trials,
            })
            .collect(),
    })
}

impl Show {
    fn kept(self, kept: &KeptTrial) -> Option<KeptJson> {
        let earlier = kept.earlier.iter().map(|form| {
            Some(EarlierJson {
                written_at: self.instant(form.written_at),
                corrected: form.correction.as_ref().map(corrected),
                judged: self.judged(&form.judged, form.checkpoint.as_deref())?,
            })
        });
        Some(KeptJson {
            id: kept.id.clone(),
            written_at: self.instant(kept.written_at),
            corrected: kept.correction.as_ref().map(corrected),
            air_forecast: kept.forecast.and_then(|forecast| self.temperature(forecast.air)),
            ran: kept
                .ran
                .iter()
                .map(|ran| RanAtJson {
                    written_at: self.instant(ran.written_at),
                    heat: self.temperature(ran.heat),
                    speed: self.maybe_speed(ran.speed),
                })
                .collect(),
            judged: self.judged(&kept.judged, kept.checkpoint.as_deref())?,
            earlier: earlier.collect::<Option<_>>()?,
            withdrawals: kept.withdrawals.iter().map(|one| self.withdrawal(one)).collect(),
        })
    }

    fn withdrawal(self, withdrawal: &Withdrawal) -> WithdrawalJson {
        let Correction { by, why } = withdrawal.said.clone();
        WithdrawalJson { at: self.instant(withdrawal.at), by, why }
    }

    /// `None` where a number of the trial is none.
    pub(super) fn withdrawn(self, withdrawn: &WithdrawnTrial) -> Option<WithdrawnJson> {
        Some(WithdrawnJson {
            withdrawn: self.withdrawal(&withdrawn.withdrawal),
            trial: self.kept(&withdrawn.trial)?,
        })
    }

    fn all_withdrawn(self, withdrawn: &[WithdrawnTrial]) -> Option<Vec<WithdrawnJson>> {
        let mut sorted: Vec<&WithdrawnTrial> = withdrawn.iter().collect();
        sorted.sort_by_key(|one| one.trial.when());
        sorted.into_iter().map(|one| self.withdrawn(one)).collect()
    }

    fn plan_at_hand(self, at_hand: &PlanAtHand) -> PlanAtHandJson {
        PlanAtHandJson {
            standing: at_hand.standing.name().to_owned(),
            made_at: self.instant(at_hand.plan.made_at),
            shift_start: self.instant(at_hand.plan.shift_start),
            shift_end: self.instant(at_hand.plan.shift_end),
        }
    }

    fn report_weather(self, at_hand: &PlanAtHand) -> ReportWeatherJson {
        let plan = &at_hand.plan;
        let weather = &plan.weather;
        ReportWeatherJson {
            source: weather.source.clone(),
            issued_at: weather.issued_at.map(|at| self.instant(at)),
            fetched_at: self.instant(weather.fetched_at),
            stale: weather.stale,
            attribution: weather.attribution.clone(),
            air_min: self.temperature(plan.air_range.0),
            air_max: self.temperature(plan.air_range.1),
            hours: plan.hours.iter().map(|hour| self.report_hour(hour)).collect(),
        }
    }

    fn report_hour(self, hour: &KeptHour) -> ReportHourJson {
        let units = self.units;
        ReportHourJson {
            time: self.instant(hour.time),
            air: hour.air.and_then(|air| self.temperature(air)),
            humidity: hour.humidity_pct.and_then(|percent| Figure::rounded(percent, DECIMALS)),
            wind: hour.wind.and_then(|wind| Figure::rounded(wind.in_units(units), DECIMALS)),
            gust: hour.gust.and_then(|gust| Figure::rounded(gust.in_units(units), DECIMALS)),
            rain: hour.rain.and_then(|rain| Figure::rounded(rain.in_units(units), DECIMALS)),
            verdict: hour.verdict.name().to_owned(),
        }
    }
}

/// Air that the plan has for a checkpoint.
fn air(report: &DayReport, id: &str) -> Option<Temperature> {
    let points = &report.plan.as_ref()?.plan.checkpoints;
    points.iter().find(|point| point.id == id).map(|point| point.air)
}

fn welder_status(report: &DayReport, one: &WelderAtCheckpoint) -> WelderStatusJson {
    let late_minutes = match one.status {
        Status::Late { by } | Status::Overdue { by } => Some(by.num_minutes()),
        _ => None,
    };
    let trials = one.trials.iter().filter_map(|place| report.trials.get(*place));
    WelderStatusJson {
        welder: one.welder.clone(),
        status: status_word(one.status),
        late_minutes,
        trials: trials.map(|kept| kept.id.clone()).collect(),
    }
}

fn corrected(correction: &Correction) -> CorrectedJson {
    CorrectedJson { by: correction.by.clone(), why: correction.why.clone() }
}

const fn status_word(status: Status) -> StatusWord {
    match status {
        Status::Done => StatusWord::Done,
        Status::Late { .. } => StatusWord::Late,
        Status::ProvedNothing => StatusWord::ProvedNothing,
        Status::Missed => StatusWord::Missed,
        Status::Overdue { .. } => StatusWord::Overdue,
        Status::NotDue => StatusWord::NotDue,
    }
}
