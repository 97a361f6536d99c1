//! From the plan's values to its JSON shape: units, rounding, offsets. Nothing else.

use chrono::{DateTime, SecondsFormat, Utc};
use chrono_tz::Tz;

use super::Figure;
use super::wire::{
    Advice, Break, Cause, Checkpoint, Dry, Footage, FootageStretch, From, Hour, Likelihood,
    PlanJson, Range, Setting, Shift, Span, StandBy, Summary, TestCount, Trial, TrialKind, Units,
    Verdict, Weather,
};
use super::wire_open::{OpenFrom, OpenRoof};
use crate::plan::{self, DayPlan, Heats};
use crate::render::{advice_words, words};
use crate::testweld::Origin;
use crate::units::{
    CONVERSION_NOISE, Length, RainDepth, Temperature, TemperatureDifference, TravelSpeed,
    UnitSystem, WindSpeed,
};
use crate::words::Language;

/// Version of the shape, raised when a reader of the old one would misread the new.
const VERSION: u32 = 1;

/// The plan in its JSON shape.
pub fn wire_plan(plan: &DayPlan) -> PlanJson {
    let show = Show { language: plan.language, zone: plan.time_zone, units: plan.units };
    let checkpoints = plan.checkpoints.iter().map(|point| show.checkpoint(point, plan)).collect();
    PlanJson {
        fairseam: VERSION,
        site: plan.site.clone(),
        date: plan.date.to_string(),
        time_zone: plan.time_zone.name().to_owned(),
        workday: plan.workday,
        units: units(plan.units),
        weather: show.weather(&plan.weather),
        shift: show.shift(&plan.shift),
        summary: show.summary(plan),
        hours: plan.hours.iter().map(|hour| show.hour(hour)).collect(),
        spans: plan.spans.iter().map(|span| show.span(span)).collect(),
        checkpoints,
        stand_by: plan.stand_by.iter().map(|test| show.stand_by(test)).collect(),
        footage: plan.footage.as_ref().map(|footage| show.footage(footage)),
        open_roof: plan.advice.iter().find_map(|advice| match advice {
            plan::Advice::Open(roof) => Some(show.open_roof(roof)),
            _ => None,
        }),
        notes: plan.notes.iter().map(|note| words::note(note, plan)).collect(),
        advice: plan
            .advice
            .iter()
            .map(|advice| Advice {
                topic: advice.topic().name().to_owned(),
                text: advice_words::advice(advice, plan),
            })
            .collect(),
        cautions: advice_words::cautions(plan.language).to_vec(),
    }
}

fn units(units: UnitSystem) -> Units {
    Units {
        temperature: units.temperature_code().to_owned(),
        speed: units.travel_speed().to_owned(),
        wind: units.wind().to_owned(),
        rain: units.rain().to_owned(),
        length: units.length().to_owned(),
        area: units.area_code().to_owned(),
    }
}

/// How values of one plan are shown.
pub(in crate::render) struct Show {
    /// Of the sentences; keys and the words that programs go by are the same in every language.
    pub(in crate::render) language: Language,
    pub(in crate::render) zone: Tz,
    pub(in crate::render) units: UnitSystem,
}

impl Show {
    pub(super) fn time(&self, at: DateTime<Utc>) -> String {
        at.with_timezone(&self.zone).to_rfc3339_opts(SecondsFormat::Secs, false)
    }

    pub(super) fn temperature(&self, value: Temperature) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 1)
    }

    pub(super) fn difference(&self, value: TemperatureDifference) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 1)
    }

    fn range(&self, low: Temperature, high: Temperature) -> Range {
        Range { low: self.temperature(low), high: self.temperature(high) }
    }

    fn length(&self, value: Length) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 0)
    }

    fn likelihood(&self, likelihood: &plan::Likelihood) -> Likelihood {
        Likelihood {
            percent: Figure::rounded(likelihood.percent, 0),
            earliest: self.time(likelihood.earliest),
            latest: self.time(likelihood.latest),
        }
    }

    fn stand_by(&self, test: &plan::StandBy) -> StandBy {
        StandBy {
            about: self.time(test.about),
            likelihood: self.likelihood(&test.likelihood),
            text: words::stand_by(self.language, test, self.zone),
        }
    }

    fn footage(&self, footage: &plan::Footage) -> Footage {
        let target = footage.target;
        let missing = target.map(|target| target.length.meters() - footage.total.meters());
        Footage {
            total: self.length(footage.total),
            target: target.and_then(|target| self.length(target.length)),
            target_reached_at: target.and_then(|target| target.reached_at).map(|at| self.time(at)),
            missing: missing
                .filter(|missing| *missing > 0.0)
                .and_then(|missing| self.length(Length::from_meters(missing))),
            stretches: footage
                .stretches
                .iter()
                .map(|stretch| FootageStretch {
                    start: self.time(stretch.start),
                    end: self.time(stretch.end),
                    welder: stretch.welder.clone(),
                    length: self.length(stretch.length),
                })
                .collect(),
        }
    }

    /// Rounded down: more is more than can be sealed.
    fn open_roof(&self, roof: &plan::RoofToOpen) -> OpenRoof {
        let down = |value: f64| Figure::rounded((value + CONVERSION_NOISE).floor(), 0);
        OpenRoof {
            sealed_by: self.time(roof.sealed_by),
            from: roof
                .from
                .iter()
                .map(|open| OpenFrom {
                    start: self.time(open.start),
                    seam: down(open.seam.in_units(self.units)),
                    area: open.area.and_then(|area| down(area.in_units(self.units))),
                    rolls: open.rolls,
                })
                .collect(),
            lacks: roof.lacks.iter().map(|lack| lack.key().to_owned()).collect(),
        }
    }

    pub(super) fn speed(&self, value: TravelSpeed) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 1)
    }

    fn wind(&self, value: WindSpeed) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 1)
    }

    fn rain(&self, value: RainDepth) -> Option<Figure> {
        let decimals = match self.units {
            UnitSystem::Us => 3,
            UnitSystem::Metric => 2,
        };
        Figure::rounded(value.in_units(self.units), decimals)
    }

    fn reasons(&self, reasons: &[plan::Reason]) -> Vec<String> {
        reasons.iter().map(|reason| words::reason(self.language, reason, self.units)).collect()
    }

    fn weather(&self, weather: &plan::PlanWeather) -> Weather {
        let names = |fields: &[crate::weather::Field]| {
            fields.iter().map(|field| field.name().to_owned()).collect()
        };
        Weather {
            source: weather.source.clone(),
            issued_at: weather.issued_at.map(|at| self.time(at)),
            fetched_at: self.time(weather.fetched_at),
            age_minutes: weather.age.num_minutes(),
            stale: weather.stale,
            attribution: weather.attribution.clone(),
            missing: names(&weather.missing),
            partly_missing: names(&weather.partly_missing),
            bridged: weather.bridged.iter().map(|at| self.time(*at)).collect(),
            known_error: weather.known_error.as_ref().map(|known| self.known_error(known)),
        }
    }

    fn shift(&self, shift: &plan::ShiftSpan) -> Shift {
        let breaks = shift.breaks.iter().map(|stop| Break {
            name: stop.name.clone(),
            start: self.time(stop.start),
            end: self.time(stop.end),
        });
        Shift { start: self.time(shift.start), end: self.time(shift.end), breaks: breaks.collect() }
    }

    fn summary(&self, plan: &DayPlan) -> Summary {
        let summary = &plan.summary;
        let swing = summary.air_max - summary.air_min;
        #[expect(clippy::cast_precision_loss, reason = "minutes of a shift")]
        let weldable_hours = summary.weldable.num_minutes() as f64 / 60.0;
        Summary {
            air_min: self.temperature(summary.air_min),
            air_max: self.temperature(summary.air_max),
            air_swing: Figure::rounded(swing.in_units(self.units), 1),
            sheet_min: summary.sheet.and_then(|(low, _)| self.temperature(low)),
            sheet_max: summary.sheet.and_then(|(_, high)| self.temperature(high)),
            weldable_hours: Figure::rounded(weldable_hours, 2),
            first_weldable: summary.first_weldable.map(|at| self.time(at)),
            dry: summary.dry.map(|dry| Dry {
                from: self.time(dry.from),
                earliest: self.time(dry.earliest),
                latest: dry.latest.map(|at| self.time(at)),
            }),
            checkpoints: plan.checkpoints.len(),
            tests: summary.tests.map(|tests| TestCount {
                p10: tests.p10,
                p50: tests.p50,
                p90: tests.p90,
                courses: tests.courses,
                from: if tests.from_ensemble { "ensemble" } else { "error-model" }.to_owned(),
            }),
        }
    }

    fn hour(&self, hour: &plan::PlanHour) -> Hour {
        Hour {
            time: self.time(hour.time),
            air: hour.air.and_then(|air| self.temperature(air)),
            sheet: hour.sheet.and_then(|sheet| self.temperature(sheet.nominal)),
            sheet_range: hour.sheet.map(|sheet| self.range(sheet.low, sheet.high)),
            dew_point: hour.dew_point.and_then(|dew_point| self.temperature(dew_point)),
            humidity: hour.humidity_pct.and_then(|percent| Figure::rounded(percent, 1)),
            wind: hour.wind.and_then(|wind| self.wind(wind)),
            gust: hour.gust.and_then(|gust| self.wind(gust)),
            rain: hour.rain.and_then(|rain| self.rain(rain)),
            snow: hour.snow.and_then(|snow| self.rain(snow)),
            verdict: verdict(hour.verdict),
            reasons: self.reasons(&hour.reasons),
        }
    }

    fn span(&self, span: &plan::Span) -> Span {
        Span {
            start: self.time(span.start),
            end: self.time(span.end),
            verdict: verdict(span.verdict),
            reasons: self.reasons(&span.reasons),
        }
    }

    fn checkpoint(&self, point: &plan::Checkpoint, plan: &DayPlan) -> Checkpoint {
        let change = point.change_since_last;
        Checkpoint {
            id: point.id.clone(),
            time: self.time(point.time),
            cause: cause(&point.cause),
            because: words::because(point, plan),
            air: self.temperature(point.air),
            sheet: point.sheet.and_then(|sheet| self.temperature(sheet.nominal)),
            sheet_range: point.sheet.map(|sheet| self.range(sheet.low, sheet.high)),
            center_shift: point.center_shift.and_then(|shift| self.difference(shift.nominal)),
            center_shift_range: point.center_shift.map(|shift| Range {
                low: self.difference(shift.low),
                high: self.difference(shift.high),
            }),
            likelihood: point.likelihood.as_ref().map(|likelihood| self.likelihood(likelihood)),
            change_since_last: change
                .and_then(|change| Figure::rounded(change.in_units(self.units), 1)),
            minutes: point.minutes,
            settings: point.settings.iter().map(|setting| self.setting(setting)).collect(),
        }
    }

    pub(in crate::render) fn setting(&self, setting: &plan::Setting) -> Setting {
        let trial = &setting.trial;
        let (kind, from) = match trial.kind {
            Heats::FullRange(_) => (TrialKind::FullRange, None),
            Heats::Bracket { center, record_speed, origin, middle_moved } => {
                let day = match origin {
                    Origin::ByHand => None,
                    Origin::Book { day } => Some(day.to_string()),
                };
                let center = self.temperature(center);
                let speed = record_speed.and_then(|speed| self.speed(speed));
                (TrialKind::Bracket, Some(From { center, speed, day, middle_moved }))
            }
        };
        Setting {
            welder: setting.welder.clone(),
            start_speed: setting.start_speed.and_then(|speed| self.speed(speed)),
            trial: Trial {
                kind,
                speed_held: trial.speed_held.and_then(|speed| self.speed(speed)),
                heats: trial.heats.iter().filter_map(|heat| self.temperature(*heat)).collect(),
                from,
                because: words::trial_because(self.language, setting, self.units),
            },
            expected_center: setting.expected_center.and_then(|center| self.temperature(center)),
            heat_per_speed: setting.heat_per_foot_per_minute.and_then(|heat| {
                let one = TravelSpeed::from_units(1.0, self.units).feet_per_minute();
                self.difference(heat * one)
            }),
            learned: setting.learned.as_ref().map(|estimate| self.learned(estimate)),
            passed_over: setting.passed_over.iter().map(|one| self.passed_over(one)).collect(),
        }
    }
}

/// The word for a verdict in every JSON.
pub(in crate::render) const fn verdict(verdict: plan::Verdict) -> Verdict {
    match verdict {
        plan::Verdict::Weld => Verdict::Weld,
        plan::Verdict::Care => Verdict::Care,
        plan::Verdict::Hold => Verdict::Hold,
    }
}

const fn cause(cause: &plan::Cause) -> Cause {
    match cause {
        plan::Cause::Start => Cause::Start,
        plan::Cause::AfterBreak { .. } => Cause::AfterBreak,
        plan::Cause::AmbientChange => Cause::AmbientChange,
        plan::Cause::SheetChange => Cause::SheetChange,
        plan::Cause::Elapsed { .. } => Cause::Elapsed,
        plan::Cause::AfterHold { .. } => Cause::AfterHold,
    }
}
