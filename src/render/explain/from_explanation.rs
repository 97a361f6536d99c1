//! From an explanation's values to its JSON shape: units, rounding, offsets. Nothing else.

use chrono::{DateTime, SecondsFormat, Utc};
use chrono_tz::Tz;

use super::see::See;
use super::wire::{ClockChange, ExplanationJson, Stage, Stretch, TestHere, Units};
use super::wire_roof::Range;
use super::{from_day, from_roof, words};
use crate::physics::surface;
use crate::plan::{self, Explanation, WallTime};
use crate::render::OFFICE;
use crate::render::json::{self, Figure, verdict};
use crate::units::{RainDepth, Temperature, TemperatureDifference, UnitSystem, WindSpeed};

/// Version of the shape, raised when a reader of the old one would misread the new.
const VERSION: u32 = 1;

/// The explanation in its JSON shape.
pub fn wire_explanation(of: &Explanation) -> ExplanationJson {
    let show = Show { zone: of.time_zone, units: of.units };
    let as_planned = json::Show { language: OFFICE, zone: of.time_zone, units: of.units };
    ExplanationJson {
        fairseam: VERSION,
        site: of.site.clone(),
        date: of.date.to_string(),
        time_zone: of.time_zone.name().to_owned(),
        time: show.time(of.time),
        clock_change: match of.wall {
            WallTime::Plain => None,
            WallTime::Twice => Some(ClockChange::Twice),
            WallTime::Skipped { .. } => Some(ClockChange::Skipped),
        },
        units: units(of.units),
        source: of.source.clone(),
        shift: of
            .shift
            .map(|(start, end)| Stretch { start: show.time(start), end: show.time(end) }),
        stage: stage(&of.stage),
        break_name: match &of.stage {
            plan::Stage::Break { name } => Some(name.clone()),
            _ => None,
        },
        verdict: verdict(of.verdict),
        reasons: words::reasons(of),
        test_here: of.test_here.as_ref().map(|test| TestHere {
            id: test.id.clone(),
            cause: test.cause.name().to_owned(),
            settings: test.settings.iter().map(|setting| as_planned.setting(setting)).collect(),
            see_carried: See::Carried.place().to_owned(),
            see_learned: See::Learned.place().to_owned(),
        }),
        weather: from_roof::weather(of, &show),
        sun: from_roof::sun(of),
        sky: from_roof::sky(of, &show),
        sheet: from_roof::sheet(of, &show),
        water: from_roof::water(of, &show),
        people: from_roof::people(of, &show),
        rules: from_day::rules(of, &show),
        since_last_test: of.since.as_ref().map(|since| from_day::since(since, &show)),
        start_speed: of.speed.as_ref().map(|steps| from_day::start_speed(steps, &show)),
        known_error: of.known_error.as_ref().map(|known| as_planned.known_error(known)),
        see_known_error: See::SiteForecast.place().to_owned(),
    }
}

fn units(units: UnitSystem) -> Units {
    Units {
        temperature: units.temperature_code().to_owned(),
        speed: units.travel_speed().to_owned(),
        wind: units.wind().to_owned(),
        rain: units.rain().to_owned(),
        evaporation: format!("{}/h", units.rain()),
        radiation: "W/m2".to_owned(),
        convection: "W/(m2 K)".to_owned(),
        pressure: "hPa".to_owned(),
        angle: "deg".to_owned(),
        percent: "%".to_owned(),
    }
}

const fn stage(stage: &plan::Stage) -> Stage {
    match stage {
        plan::Stage::Work => Stage::Work,
        plan::Stage::Break { .. } => Stage::Break,
        plan::Stage::Hold => Stage::Hold,
        plan::Stage::Before => Stage::BeforeShift,
        plan::Stage::After => Stage::AfterShift,
        plan::Stage::Unplanned => Stage::Unplanned,
    }
}

/// How values of one explanation are shown: with a digit more than in the plan.
pub(super) struct Show {
    pub(super) zone: Tz,
    pub(super) units: UnitSystem,
}

impl Show {
    pub(super) fn time(&self, at: DateTime<Utc>) -> String {
        at.with_timezone(&self.zone).to_rfc3339_opts(SecondsFormat::Secs, false)
    }

    pub(super) fn temperature(&self, value: Temperature) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 2)
    }

    pub(super) fn difference(&self, value: TemperatureDifference) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 2)
    }

    pub(super) fn wind(&self, value: WindSpeed) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), 2)
    }

    pub(super) fn depth(&self, value: RainDepth) -> Option<Figure> {
        let decimals = match self.units {
            UnitSystem::Us => 4,
            UnitSystem::Metric => 3,
        };
        Figure::rounded(value.in_units(self.units), decimals)
    }

    pub(super) fn range<T: Copy>(
        range: surface::Range<T>,
        shown: impl Fn(T) -> Option<Figure>,
    ) -> Range {
        Range { low: shown(range.low), nominal: shown(range.nominal), high: shown(range.high) }
    }
}
