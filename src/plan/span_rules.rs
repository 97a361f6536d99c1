//! The rules that judge a minute, one function each: its value against its limit.
//!
//! The plan and the explanation of a minute go through the same list, so that they cannot differ.

use chrono::{DateTime, TimeDelta, Utc};

use super::reasons::{Reason, Verdict};
use super::roof_moment::{FilmMoment, RoofMoment};
use super::spans::is_wet;
use crate::physics::sun::Line;
use crate::site::Rules;
use crate::units::{RainDepth, Temperature, TemperatureDifference, WindSpeed};
use crate::weather::{Forecast, Hour, HourSum, floor_hour};

/// Elevation of the sun's center at the end of civil twilight.
pub(super) const CIVIL_TWILIGHT_DEG: f64 = Line::CivilTwilight.elevation_deg();

/// A rule that judges minutes. The order is that in which reasons are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// Measurable snow.
    Snow,
    /// Measurable rain.
    Rain,
    /// Thunder now, or less than the clearing time ago.
    Thunder,
    /// Water, dew or frost stands on the sheet.
    WetSheet,
    /// Wind or gusts at which work on the roof stops.
    WindStop,
    /// The sheet is hardly warmer than the dew or frost point.
    DewNear,
    /// Cold air.
    Cold,
    /// Gusts that ask for a second hand on every sheet.
    Gust,
    /// Wind that cools the lap.
    WindShield,
    /// Heat index at which people need water, shade and rest.
    Heat,
    /// Before civil dawn or after civil dusk.
    Dark,
}

/// What a rule looks at, in the kind of quantity that it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// Of the air, or the heat index.
    Temperature(Temperature),
    /// Sheet less dew point.
    Difference(TemperatureDifference),
    /// Wind or gust.
    Wind(WindSpeed),
    /// Rain, snow, or water on the sheet.
    Depth(RainDepth),
    /// A chance, 0 to 100 %.
    Percent(f64),
    /// Elevation of the sun, degrees.
    Degrees(f64),
    /// Whether the source's own word for the hour names it.
    Named(bool),
}

/// How a value is held against a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comparison {
    /// At the limit or beyond.
    AtLeast,
    /// Beyond the limit.
    Above,
    /// Short of the limit.
    Below,
}

/// One rule held against one minute.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleCheck {
    /// Which rule.
    pub rule: Rule,
    /// What it looks at; `None` where that is unknown, which holds nothing.
    pub value: Option<Measure>,
    /// The threshold in force.
    pub limit: Measure,
    /// What it has to say, where the value is at or beyond the limit.
    pub reason: Option<Reason>,
    /// A graver rule that says it already.
    pub said_by: Option<Rule>,
}

/// What the rules look at in one minute.
pub(super) struct Facts<'a> {
    pub(super) rules: &'a Rules,
    pub(super) forecast: &'a Forecast,
    pub(super) moment: &'a RoofMoment,
    pub(super) hour: Option<&'a Hour>,
    pub(super) film: Option<&'a FilmMoment>,
}

/// A value, its limit, and what the rule has to say where the value is at or beyond it.
type Held = (Option<Measure>, Measure, Option<Reason>);

impl Rule {
    /// Every rule, in the order in which reasons are given.
    pub const ALL: [Self; 11] = [
        Self::Snow,
        Self::Rain,
        Self::Thunder,
        Self::WetSheet,
        Self::WindStop,
        Self::DewNear,
        Self::Cold,
        Self::Gust,
        Self::WindShield,
        Self::Heat,
        Self::Dark,
    ];

    /// The word in every output.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Snow => "snow",
            Self::Rain => "rain",
            Self::Thunder => "thunder",
            Self::WetSheet => "wet-sheet",
            Self::WindStop => "wind-stop",
            Self::DewNear => "dew-near",
            Self::Cold => "cold",
            Self::Gust => "gust",
            Self::WindShield => "wind-shield",
            Self::Heat => "heat",
            Self::Dark => "dark",
        }
    }

    /// The key of its limit under `[rules]` in the site file; `None` where it is no setting.
    pub const fn key(self) -> Option<&'static str> {
        match self {
            Self::Snow => Some("snow_hold"),
            Self::Rain => Some("rain_hold"),
            Self::Thunder => Some("thunder_hold_pct"),
            Self::WetSheet => Some("film_dry"),
            Self::WindStop => Some("wind_stop"),
            Self::DewNear => Some("dew_margin"),
            Self::Cold => Some("cold_care"),
            Self::Gust => Some("gust_care"),
            Self::WindShield => Some("wind_shield"),
            Self::Heat => Some("heat_care"),
            Self::Dark => None,
        }
    }

    /// What a minute is at least when the rule fires.
    pub const fn verdict(self) -> Verdict {
        match self {
            Self::Snow | Self::Rain | Self::Thunder | Self::WetSheet | Self::WindStop => {
                Verdict::Hold
            }
            Self::DewNear
            | Self::Cold
            | Self::Gust
            | Self::WindShield
            | Self::Heat
            | Self::Dark => Verdict::Care,
        }
    }

    /// How its value is held against its limit.
    pub const fn comparison(self) -> Comparison {
        match self {
            Self::WetSheet => Comparison::Above,
            Self::DewNear | Self::Cold | Self::Dark => Comparison::Below,
            Self::Snow
            | Self::Rain
            | Self::Thunder
            | Self::WindStop
            | Self::Gust
            | Self::WindShield
            | Self::Heat => Comparison::AtLeast,
        }
    }

    /// Graver rules that say the same: while it rains nobody needs to be told that the sheet is wet.
    const fn graver(self) -> &'static [Self] {
        match self {
            Self::Rain => &[Self::Snow],
            Self::WetSheet => &[Self::Snow, Self::Rain],
            Self::DewNear => &[Self::Snow, Self::Rain, Self::WetSheet],
            Self::Gust => &[Self::WindStop],
            Self::WindShield => &[Self::WindStop, Self::Gust],
            _ => &[],
        }
    }
}

impl RuleCheck {
    /// Whether it counts toward the verdict.
    pub const fn fires(&self) -> bool {
        self.reason.is_some() && self.said_by.is_none()
    }
}

/// The first of the rules by which there is no welding at `at`, by the order of [`Rule::ALL`].
///
/// The same judgment as a plan's, without the rules that only ask for care.
pub(crate) fn first_hold(
    rules: &Rules,
    forecast: &Forecast,
    at: DateTime<Utc>,
    film: Option<&FilmMoment>,
) -> Option<Rule> {
    let moment = RoofMoment { wind: forecast.wind_at(at), ..RoofMoment::unknown(at) };
    let facts = Facts { rules, forecast, moment: &moment, hour: forecast.hour_of(at), film };
    // A graver rule comes first, so that the first that is reached is not said by another.
    let holds = Rule::ALL.into_iter().filter(|rule| rule.verdict() == Verdict::Hold);
    holds.map(|rule| facts.check(rule)).find(|check| check.reason.is_some()).map(|check| check.rule)
}

impl Facts<'_> {
    /// Every rule held against this minute, in the order of [`Rule::ALL`].
    pub(super) fn checks(&self) -> [RuleCheck; Rule::ALL.len()] {
        let mut checks = Rule::ALL.map(|rule| self.check(rule));
        // A check's place in the list is its rule's own number.
        let reached = checks.map(|check| check.reason.is_some());
        for check in &mut checks {
            check.said_by =
                check.rule.graver().iter().copied().find(|rule| reached[*rule as usize]);
        }
        checks
    }

    fn check(&self, rule: Rule) -> RuleCheck {
        let (value, limit, reason) = match rule {
            Rule::Snow => self.snow(),
            Rule::Rain => self.rain(),
            Rule::Thunder => self.thunder(),
            Rule::WetSheet => self.wet_sheet(),
            Rule::WindStop => self.wind_stop(),
            Rule::DewNear => self.dew_near(),
            Rule::Cold => self.cold(),
            Rule::Gust => self.gust(),
            Rule::WindShield => self.wind_shield(),
            Rule::Heat => self.heat(),
            Rule::Dark => self.dark(),
        };
        RuleCheck { rule, value, limit, reason, said_by: None }
    }

    fn snow(&self) -> Held {
        falling(self.hour.and_then(|hour| hour.snow), self.rules.snow_hold, |sum| Reason::Snow {
            total: sum.total,
            over_hours: sum.over_hours,
        })
    }

    fn rain(&self) -> Held {
        falling(self.hour.and_then(|hour| hour.rain), self.rules.rain_hold, |sum| Reason::Rain {
            total: sum.total,
            over_hours: sum.over_hours,
        })
    }

    /// Thunder in this hour, or in one that ended less than the clearing time ago.
    fn thunder(&self) -> Held {
        let (at, limit) = (self.moment.time, self.rules.thunder_hold_pct);
        let clear = TimeDelta::minutes(i64::from(self.rules.thunder_clear_minutes));
        let just_past = (at - clear + TimeDelta::seconds(1)).min(at);
        let (mut chance, mut named) = (None::<f64>, None::<bool>);
        let mut start = floor_hour(just_past).max(self.forecast.first());
        while start <= at {
            let Some(hour) = self.forecast.hour_of(start) else { break };
            let of_hour = hour.thunder_probability_pct;
            chance = of_hour.map(|pct| chance.map_or(pct, |most| most.max(pct))).or(chance);
            named = hour.thunder_named.map(|this| this || named == Some(true)).or(named);
            start += TimeDelta::hours(1);
        }
        let value = match (named, chance) {
            (Some(true), _) | (Some(false), None) => named.map(Measure::Named),
            (_, chance) => chance.map(Measure::Percent),
        };
        let thundery = named == Some(true) || chance.is_some_and(|chance| chance >= limit);
        (value, Measure::Percent(limit), thundery.then_some(Reason::Thunder))
    }

    fn wet_sheet(&self) -> Held {
        let wet = self.film.filter(|film| is_wet(self.rules, film.depth));
        (
            self.film.map(|film| Measure::Depth(film.depth)),
            Measure::Depth(self.rules.film_dry),
            wet.map(|film| Reason::WetSheet { depth: film.depth, frost: film.frost }),
        )
    }

    fn wind_stop(&self) -> Held {
        let from = self.rules.wind_stop;
        blowing(self.strongest(), from, Reason::WindStop { from })
    }

    fn dew_near(&self) -> Held {
        let within = self.rules.dew_margin;
        let near = self.moment.dew_margin.is_some_and(|margin| !margin.reaches(within));
        (
            self.moment.dew_margin.map(Measure::Difference),
            Measure::Difference(within),
            near.then_some(Reason::DewNear { within }),
        )
    }

    fn cold(&self) -> Held {
        let below = self.rules.cold_care;
        let cold = self.moment.air.is_some_and(|air| air.is_below(below));
        (
            self.moment.air.map(Measure::Temperature),
            Measure::Temperature(below),
            cold.then_some(Reason::Cold { below }),
        )
    }

    fn gust(&self) -> Held {
        let from = self.rules.gust_care;
        blowing(self.strongest(), from, Reason::Gust { from })
    }

    /// No gust in the reply does not mean calm, and no gust is weaker than the mean wind, neither
    /// that of the hour nor that which has risen since.
    fn strongest(&self) -> Option<WindSpeed> {
        let told = [self.hour.and_then(|hour| hour.gust), self.hour.and_then(|hour| hour.wind)];
        let known = told.into_iter().chain([self.moment.wind]).flatten();
        known.reduce(|most, wind| if wind > most { wind } else { most })
    }

    fn wind_shield(&self) -> Held {
        let from = self.rules.wind_shield;
        blowing(self.moment.wind, from, Reason::WindShield { from })
    }

    fn heat(&self) -> Held {
        let from = self.rules.heat_care;
        let hot = self.moment.heat_index.is_some_and(|felt| !felt.is_below(from));
        (
            self.moment.heat_index.map(Measure::Temperature),
            Measure::Temperature(from),
            hot.then_some(Reason::Heat { from }),
        )
    }

    fn dark(&self) -> Held {
        let sun = self.moment.sun_elevation_deg;
        let dark = sun.is_some_and(|sun| sun < CIVIL_TWILIGHT_DEG);
        let limit = Measure::Degrees(CIVIL_TWILIGHT_DEG);
        (sun.map(Measure::Degrees), limit, dark.then_some(Reason::Dark))
    }
}

/// Measurable rain or snow. A total over several hours counts whole for each of them: nobody knows
/// in which of the six hours the rain will fall.
fn falling(sum: Option<HourSum>, limit: RainDepth, reason: fn(HourSum) -> Reason) -> Held {
    let value = sum.map(|sum| Measure::Depth(sum.total));
    (value, Measure::Depth(limit), measurable(sum, limit).map(reason))
}

/// Whether measurable rain or snow falls in `hour`.
pub(crate) fn is_falling(rules: &Rules, hour: &Hour) -> bool {
    measurable(hour.rain, rules.rain_hold).or(measurable(hour.snow, rules.snow_hold)).is_some()
}

fn measurable(sum: Option<HourSum>, limit: RainDepth) -> Option<HourSum> {
    sum.filter(|sum| sum.total.reaches(limit))
}

fn blowing(blow: Option<WindSpeed>, from: WindSpeed, reason: Reason) -> Held {
    let reaches = blow.is_some_and(|blow| blow.reaches(from));
    (blow.map(Measure::Wind), Measure::Wind(from), reaches.then_some(reason))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_stands_where_its_number_says_and_is_only_silenced_by_graver_ones() {
        for (place, rule) in Rule::ALL.into_iter().enumerate() {
            assert_eq!(rule as usize, place, "{}", rule.name());
            for graver in rule.graver() {
                assert!((*graver as usize) < place && graver.verdict() >= rule.verdict());
            }
        }
    }
}
