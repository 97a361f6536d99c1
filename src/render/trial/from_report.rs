//! From trials, days and months to their JSON shapes.

use super::from_judged::{VERSION, pretty};
use super::report_text::because;
use super::wire_report::{
    BookJson, CheckpointJson, CorrectedJson, EarlierJson, KeptJson, MonthDayJson, MonthJson,
    RanAtJson, ReportJson, ReportWeatherJson, StatusWord, WelderJson, WelderStatusJson,
};
use super::{CERTIFIES_NOTHING, Show};
use crate::plan::DayPlan;
use crate::quality::{Correction, DayReport, KeptTrial, MonthSummary, Status, WelderAtCheckpoint};

/// Trials as JSON, oldest first; `None` where a number of a trial is none.
pub fn book_json(show: Show, site: &str, trials: &[KeptTrial]) -> Option<String> {
    let mut trials: Vec<&KeptTrial> = trials.iter().collect();
    trials.sort_by(|one, other| one.when().cmp(&other.when()).then_with(|| one.id.cmp(&other.id)));
    pretty(&BookJson {
        fairseam: VERSION,
        site: site.to_owned(),
        trials: trials.into_iter().map(|kept| show.kept(kept)).collect::<Option<_>>()?,
        caution: CERTIFIES_NOTHING.to_owned(),
    })
}

/// The daily report as JSON; `None` where a number of a trial is none.
pub fn report_json(show: Show, report: &DayReport) -> Option<String> {
    let checkpoints = report.checkpoints.iter().map(|point| CheckpointJson {
        id: point.id.clone(),
        due: show.instant(point.due),
        because: because(report, &point.id),
        status: status_word(point.status),
        welders: point.welders.iter().map(|one| welder_status(report, one)).collect(),
    });
    pretty(&ReportJson {
        fairseam: VERSION,
        site: report.site.clone(),
        date: report.date.to_string(),
        time_zone: show.zone.name().to_owned(),
        made_at: show.instant(report.made_at),
        weather: report.plan.as_ref().map(|plan| show.report_weather(plan)),
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
        caution: CERTIFIES_NOTHING.to_owned(),
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
        minutes_spent: month.minutes_spent(),
        days_without_plan: month.days_without_plan(),
        days: month
            .days
            .iter()
            .map(|day| MonthDayJson {
                date: day.date.to_string(),
                planned: day.planned,
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
                judged: self.judged(&form.judged)?,
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
            judged: self.judged(&kept.judged)?,
            earlier: earlier.collect::<Option<_>>()?,
        })
    }

    fn report_weather(self, plan: &DayPlan) -> ReportWeatherJson {
        let weather = &plan.weather;
        ReportWeatherJson {
            source: weather.source.clone(),
            issued_at: weather.issued_at.map(|at| self.instant(at)),
            fetched_at: self.instant(weather.fetched_at),
            stale: weather.stale,
            attribution: weather.attribution.clone(),
            air_min: self.temperature(plan.summary.air_min),
            air_max: self.temperature(plan.summary.air_max),
        }
    }
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
