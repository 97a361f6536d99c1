//! What to see to, in the order in which it matters: people first, then the open roof, then the
//! weld, then the gear.

use chrono::{DateTime, TimeDelta, Utc};

use super::advised::{Advice, HeatSchedule};
use super::day::{ShiftSpan, Span};
use super::footage::Seam;
use super::power::{DropVerdict, PowerReport, power_check};
use super::reasons::Reason;
use super::roof_moment::RoofMoment;
use super::span_rules::{CIVIL_TWILIGHT_DEG, is_falling};
use super::to_open::roof_to_open;
use crate::physics::comfort::{self, Sun, WorkLoad, WorkRest};
use crate::site::Site;
use crate::units::Temperature;
use crate::weather::{Forecast, Hour};

/// How far beyond the shift rain matters to what is open: to the next morning.
const NIGHT: TimeDelta = TimeDelta::hours(16);
/// Steps in which the dusk is looked for.
const DUSK_STEP: TimeDelta = TimeDelta::minutes(5);

/// A day as far as advice depends on it.
pub(super) struct AdviceOn<'a> {
    pub(super) site: &'a Site,
    pub(super) shift: &'a ShiftSpan,
    pub(super) spans: &'a [Span],
    pub(super) roof: &'a [RoofMoment],
    pub(super) forecast: &'a Forecast,
    pub(super) seam: &'a Seam<'a>,
    /// Sun below the twilight line at an instant; `None` where the sun is unknown.
    pub(super) sun_elevation_deg: &'a dyn Fn(DateTime<Utc>) -> Option<f64>,
}

/// Everything that applies, most important first.
pub(super) fn advice(on: &AdviceOn<'_>) -> Vec<Advice> {
    let rules = &on.site.rules;
    let has =
        |wanted: fn(&Reason) -> bool| on.spans.iter().flat_map(|span| &span.reasons).any(wanted);
    let when = |applies: bool, advice: Advice| applies.then_some(advice);
    let dew = has(|reason| matches!(reason, Reason::DewNear { .. } | Reason::WetSheet { .. }));
    let seal = on.seal();
    let open = seal.as_ref().and_then(|seal| on.open(seal));
    let mut advice: Vec<Advice> = [
        when(on.forecast.provenance.stale, Advice::Stale),
        when(
            has(|reason| matches!(reason, Reason::Thunder)),
            Advice::Lightning { clear_minutes: rules.thunder_clear_minutes },
        ),
        when(
            has(|reason| matches!(reason, Reason::WindStop { .. })),
            Advice::StormWind { from: rules.wind_stop },
        ),
        when(has(|reason| matches!(reason, Reason::WetSheet { frost: true, .. })), Advice::Ice),
        on.heat(),
        seal,
        open,
        on.dusk(),
        when(
            has(|reason| matches!(reason, Reason::Rain { .. } | Reason::Snow { .. })),
            Advice::Wet,
        ),
        when(dew, Advice::Dew),
        when(
            has(|reason| matches!(reason, Reason::Cold { .. })),
            Advice::Cold { below: rules.cold_care, wind_chill: on.lowest_wind_chill() },
        ),
        when(has(|reason| matches!(reason, Reason::Gust { .. })), Advice::Gust),
        when(has(|reason| matches!(reason, Reason::WindShield { .. })), Advice::Shield),
    ]
    .into_iter()
    .flatten()
    .collect();
    let hottest = on.roof.iter().filter_map(|moment| moment.air).reduce(Temperature::max);
    advice.extend(power(&power_check(on.site, hottest)));
    advice
}

impl AdviceOn<'_> {
    /// Rain that comes during the shift or in the night after it.
    fn seal(&self) -> Option<Advice> {
        let rules = &self.site.rules;
        let wet = |hour: &&Hour| is_falling(rules, hour);
        let until = self.shift.end + NIGHT;
        // Rain in which the shift begins leaves nothing to seal in time, and the hold says so; what
        // is opened after it has to be sealed before the next.
        let hours = self.forecast.hours_between(self.shift.start, until);
        let rain_from = hours.skip_while(wet).find(wet)?.time;
        Some(Advice::Seal {
            rain_from,
            sealed_by: (rain_from - TimeDelta::minutes(i64::from(rules.seal_minutes)))
                .clamp(self.shift.start, self.shift.end),
            after_shift: rain_from >= self.shift.end,
        })
    }

    /// How much can be sealed in time.
    fn open(&self, seal: &Advice) -> Option<Advice> {
        let Advice::Seal { sealed_by, .. } = seal else { return None };
        Some(Advice::Open(roof_to_open(self.seam, self.spans, *sealed_by)))
    }

    /// Dusk within the shift: what is open must be sealed while it can be seen.
    fn dusk(&self) -> Option<Advice> {
        let dark = |at| Some((self.sun_elevation_deg)(at)? < CIVIL_TWILIGHT_DEG);
        let mut at = self.shift.start;
        let mut was_light = false;
        while at < self.shift.end {
            match dark(at) {
                Some(true) if was_light => return Some(Advice::Dusk { dark_from: at }),
                Some(is_dark) => was_light = !is_dark,
                None => {}
            }
            at += DUSK_STEP;
        }
        None
    }

    fn heat(&self) -> Option<Advice> {
        let rules = &self.site.rules;
        let felt = |moment: &&RoofMoment| moment.heat_index.map(Temperature::celsius);
        let hottest = self.roof.iter().filter(|moment| moment.heat_index.is_some()).max_by(
            |one, other| felt(one).partial_cmp(&felt(other)).unwrap_or(std::cmp::Ordering::Equal),
        )?;
        let index = hottest.heat_index.filter(|index| !index.is_below(rules.heat_care))?;
        Some(Advice::Heat {
            index,
            schedule: schedule(hottest),
            test_after_minutes: rules.break_needs_test_minutes,
        })
    }

    fn lowest_wind_chill(&self) -> Option<Temperature> {
        self.roof.iter().filter_map(|moment| moment.wind_chill).reduce(Temperature::min)
    }
}

/// The public schedule for moderate work, in the sun that the cloud lets through.
fn schedule(moment: &RoofMoment) -> HeatSchedule {
    let asked = || {
        let sun = sun(moment.cloud_cover_pct);
        let adjusted = comfort::air_for_work_rest(moment.air?, moment.humidity_pct?, sun)?;
        comfort::work_rest(adjusted, WorkLoad::Moderate)
    };
    match asked() {
        Some(WorkRest::Alternate { work_minutes, rest_minutes }) => {
            HeatSchedule::Rest { work_minutes, rest_minutes }
        }
        Some(WorkRest::Caution) => HeatSchedule::Beyond,
        Some(WorkRest::Normal) | None => HeatSchedule::Usual,
    }
}

/// Unknown cloud counts as none: better one rest too many. The two limits are *common practice*,
/// the schedule itself says only "full sun" and "partly cloudy".
fn sun(cloud_cover_pct: Option<f64>) -> Sun {
    match cloud_cover_pct {
        Some(cover) if cover >= 87.5 => Sun::Shade,
        Some(cover) if cover >= 37.5 => Sun::PartCloud,
        _ => Sun::Full,
    }
}

/// A generator that is shared, short or small, and cords that take more than a branch should.
fn power(report: &PowerReport) -> Vec<Advice> {
    let mut advice = Vec::new();
    if report.automatic_shares() {
        advice.push(Advice::GeneratorShared);
    }
    if let Ok(generator) = &report.generator {
        match (&generator.load, generator.wanted_rating) {
            (Some(load), _) if generator.is_short() => advice.push(Advice::GeneratorShort {
                available_w: generator.watts_available,
                wanted_w: load.watts,
            }),
            (_, Some(wanted_w)) if generator.is_small() => {
                advice.push(Advice::GeneratorSmall { rated_w: generator.rated_watts, wanted_w });
            }
            _ => {}
        }
    }
    let cords = report.cords.iter().filter_map(|welder| {
        let now = welder.cord.as_ref().ok()?.now;
        (now.verdict() != DropVerdict::Within).then(|| Advice::CordDrop {
            welder: welder.welder.clone(),
            drop_pct: 100.0 * now.check.drop_fraction,
            watts_pct: 100.0 * now.check.watts_fraction,
        })
    });
    advice.extend(cords);
    advice
}
