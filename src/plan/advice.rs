//! What to see to, in the order in which it matters: people first, then the open roof, then the
//! weld, then the gear.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{Advice, Reason, ShiftSpan, Span};
use super::roof::RoofMoment;
use crate::physics::comfort::{self, Sun, WorkLoad, WorkRest};
use crate::physics::cord::{
    BRANCH_DROP, Conductor, CordRun, NEC_CONDUCTOR_TEMPERATURE, WelderLoad, check_cord,
    check_generator,
};
use crate::site::{Kind, Power, Site, Welder};
use crate::units::{Length, Temperature};
use crate::weather::Forecast;

/// What an automatic welder's generator ought to give by itself, W. *Common practice*, no source.
const AUTOMATIC_WELDER_WATTS: f64 = 10_000.0;
/// How far beyond the shift rain matters to what is open: to the next morning.
const NIGHT: TimeDelta = TimeDelta::hours(16);
/// Steps in which the dusk is looked for.
const DUSK_STEP: TimeDelta = TimeDelta::minutes(5);
/// End of civil twilight. Source: USNO2024.
const CIVIL_TWILIGHT_DEG: f64 = -6.0;

/// A day as far as advice depends on it.
pub(super) struct AdviceOn<'a> {
    pub(super) site: &'a Site,
    pub(super) shift: &'a ShiftSpan,
    pub(super) spans: &'a [Span],
    pub(super) roof: &'a [RoofMoment],
    pub(super) forecast: &'a Forecast,
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
        on.seal(),
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
    if let Some(power) = &on.site.power {
        advice.extend(on.generator(power));
        advice.extend(on.site.welders.iter().filter_map(|welder| cord(power, welder)));
    }
    advice
}

impl AdviceOn<'_> {
    /// Rain that comes during the shift or in the night after it.
    fn seal(&self) -> Option<Advice> {
        let rules = &self.site.rules;
        let falls = |sum: Option<crate::weather::HourSum>, limit| {
            sum.is_some_and(|sum| sum.total.reaches(limit))
        };
        let wet = |hour: &&crate::weather::Hour| {
            falls(hour.rain, rules.rain_hold) || falls(hour.snow, rules.snow_hold)
        };
        let until = self.shift.end + NIGHT;
        let rain_from = self.forecast.hours_between(self.shift.start, until).find(wet)?.time;
        // Rain at the very start leaves nothing to seal in time; the hold says the rest.
        (rain_from > self.shift.start).then(|| Advice::Seal {
            rain_from,
            sealed_by: (rain_from - TimeDelta::minutes(i64::from(rules.seal_minutes)))
                .max(self.shift.start),
            after_shift: rain_from >= self.shift.end,
        })
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
            rest: work_and_rest(hottest),
            test_after_minutes: rules.break_needs_test_minutes,
        })
    }

    fn lowest_wind_chill(&self) -> Option<Temperature> {
        self.roof.iter().filter_map(|moment| moment.wind_chill).reduce(Temperature::min)
    }

    fn generator(&self, power: &Power) -> Vec<Advice> {
        let automatic = self.site.welders.iter().any(|welder| welder.kind == Kind::Automatic);
        let mut advice = Vec::new();
        if automatic && power.dedicated == Some(false) {
            advice.push(Advice::GeneratorShared);
        }
        let load = self.site.welders.iter().filter_map(|welder| welder.rated_watts);
        let load =
            if power.dedicated == Some(false) { load.sum() } else { load.fold(0.0, f64::max) };
        let hottest = self.roof.iter().filter_map(|moment| moment.air).reduce(Temperature::max);
        let elevation = self.site.elevation.unwrap_or(Length::from_meters(0.0));
        let check = power
            .generator_watts
            .zip(hottest)
            .and_then(|(rated, air)| check_generator(rated, load, elevation, air));
        if let Some(check) = check {
            let wanted_w = if automatic { load.max(AUTOMATIC_WELDER_WATTS) } else { load };
            if check.watts_available < wanted_w {
                advice
                    .push(Advice::GeneratorShort { available_w: check.watts_available, wanted_w });
            }
        }
        advice
    }
}

/// By the public schedule for moderate work in full sun, where it asks for rest.
fn work_and_rest(moment: &RoofMoment) -> Option<(u32, u32)> {
    let adjusted = comfort::air_for_work_rest(moment.air?, moment.humidity_pct?, Sun::Full)?;
    match comfort::work_rest(adjusted, WorkLoad::Moderate)? {
        WorkRest::Alternate { work_minutes, rest_minutes } => Some((work_minutes, rest_minutes)),
        WorkRest::Normal | WorkRest::Caution => None,
    }
}

/// A cord that takes more than a branch should.
fn cord(power: &Power, welder: &Welder) -> Option<Advice> {
    let conductor = match (power.cord_gauge_awg, power.cord_mm2) {
        (Some(gauge), _) => Conductor::Awg(gauge),
        (None, Some(area)) => Conductor::SquareMillimeters(area),
        (None, None) => return None,
    };
    let load = WelderLoad { rated_watts: welder.rated_watts?, rated_volts: welder.rated_volts? };
    let run = CordRun { conductor, length: power.cord_length?, copper: NEC_CONDUCTOR_TEMPERATURE };
    let check = check_cord(load, load.rated_volts, run)?;
    (check.drop_fraction > BRANCH_DROP).then(|| Advice::CordDrop {
        welder: welder.name.clone(),
        drop_pct: 100.0 * check.drop_fraction,
        watts_pct: 100.0 * check.watts_fraction,
    })
}
