//! Forecast, sun, sky, sheet, water and people in their JSON shape.

use super::from_explanation::Show;
use super::see::See;
use super::wire_roof::{
    Condensate, HourSum, Optics, OpticsFrom, Origin, People, RadiationFrom, Reading, Sheet, Sky,
    Sun, TimedValue, Water, Weather,
};
use super::words;
use crate::physics::humidity::Condensation;
use crate::physics::radiation::Source;
use crate::plan::{self, Explanation};
use crate::render::json::Figure;
use crate::units::RainDepth;
use crate::weather;

pub(super) fn weather(of: &Explanation, show: &Show) -> Weather {
    let (at, row) = (&of.weather, &of.weather.row);
    let temperature = |value| show.temperature(value);
    let percent = |value| Figure::rounded(value, 1);
    Weather {
        row: show.time(row.time),
        air: reading(show, &at.air, temperature),
        dew_point: reading(show, &at.dew_point, temperature),
        humidity: reading(show, &at.humidity_pct, percent),
        wind: reading(show, &at.wind, |value| show.wind(value)),
        cloud_cover: reading(show, &at.cloud_cover_pct, percent),
        pressure: reading(show, &at.surface_pressure_hpa, percent),
        gust: row.gust.and_then(|gust| show.wind(gust)),
        rain: row.rain.map(|sum| hour_sum(show, sum)),
        snow: row.snow.map(|sum| hour_sum(show, sum)),
        precipitation_probability: row.precipitation_probability_pct.and_then(percent),
        thunder_probability: row.thunder_probability_pct.and_then(percent),
        thunder_named: row.thunder_named,
        see: See::Forecast.place().to_owned(),
    }
}

fn reading<T: Copy>(
    show: &Show,
    reading: &plan::Reading<T>,
    number: impl Fn(T) -> Option<Figure>,
) -> Reading {
    let (origin, between, derived) = match reading.origin {
        plan::Origin::Told => (Origin::Told, None, None),
        plan::Origin::Between { before, after, bridged } => {
            let origin = if bridged { Origin::Bridged } else { Origin::Interpolated };
            let timed = [before, after]
                .map(|(time, value)| TimedValue { time: show.time(time), value: number(value) });
            (origin, Some(timed), None)
        }
        plan::Origin::Derived(from) => {
            (Origin::Derived, None, Some(words::derivation(from).to_owned()))
        }
        plan::Origin::Unknown => (Origin::Unknown, None, None),
    };
    Reading { value: reading.value.and_then(number), origin, between, derived }
}

fn hour_sum(show: &Show, sum: weather::HourSum) -> HourSum {
    HourSum {
        share: show.depth(sum.share),
        total: show.depth(sum.total),
        over_hours: sum.over_hours,
    }
}

pub(super) fn sun(of: &Explanation) -> Sun {
    let sun = &of.sun;
    let w_m2 = |value| Figure::rounded(value, 1);
    Sun {
        elevation: sun.elevation_deg.and_then(|angle| Figure::rounded(angle, 2)),
        solar_hour: sun.solar_hour.and_then(|hour| Figure::rounded(hour, 3)),
        clear_sky: sun.clear_sky_w_m2.and_then(w_m2),
        clear_sky_mean: sun.clear_mean_w_m2.and_then(w_m2),
        source_mean: sun.told_mean_w_m2.and_then(w_m2),
        cloud_passes: sun.cloud_passes.and_then(|share| Figure::rounded(share, 4)),
        radiation: sun.radiation.and_then(|radiation| w_m2(radiation.w_m2)),
        radiation_from: sun.radiation.map(|radiation| match radiation.source {
            Source::Service => RadiationFrom::Source,
            Source::ClearSkyAndCloud => RadiationFrom::ClearSkyAndCloud,
            Source::Night => RadiationFrom::Night,
        }),
        see: See::Sun.place().to_owned(),
        see_radiation: See::Radiation.place().to_owned(),
    }
}

pub(super) fn sky(of: &Explanation, show: &Show) -> Sky {
    let share = |value| Figure::rounded(value, 4);
    Sky {
        clear_emissivity: of.sky.clear_emissivity.and_then(share),
        emissivity: of.sky.emissivity.and_then(share),
        temperature: of.sky.temperature.and_then(|sky| show.temperature(sky)),
        see: See::Sky.place().to_owned(),
    }
}

pub(super) fn sheet(of: &Explanation, show: &Show) -> Sheet {
    let sheet = &of.sheet;
    let condensation = sheet.condensation;
    Sheet {
        optics: sheet.optics.as_ref().map(optics),
        convection: sheet
            .convection_w_m2_k
            .map(|range| Show::range(range, |value| Figure::rounded(value, 2))),
        temperature: sheet
            .temperature
            .map(|range| Show::range(range, |value| show.temperature(value))),
        condensation_point: condensation.and_then(|point| show.temperature(point.at())),
        condenses_as: condensation.map(|point| match point {
            Condensation::Dew(_) => Condensate::Dew,
            Condensation::Frost(_) => Condensate::Frost,
        }),
        dew_margin: sheet.dew_margin.and_then(|margin| show.difference(margin)),
        see: See::Sheet.place().to_owned(),
        see_humidity: See::Humidity.place().to_owned(),
    }
}

fn optics(optics: &plan::OpticsUsed) -> Optics {
    let from = |given| if given { OpticsFrom::Given } else { OpticsFrom::Preset };
    Optics {
        color: words::color(optics.color).to_owned(),
        aged: optics.aged,
        solar_reflectance: Figure::rounded(optics.solar_reflectance, 3),
        solar_reflectance_from: from(optics.reflectance_given),
        thermal_emittance: Figure::rounded(optics.thermal_emittance, 3),
        thermal_emittance_from: from(optics.emittance_given),
        see: See::Optics.place().to_owned(),
    }
}

pub(super) fn water(of: &Explanation, show: &Show) -> Water {
    let film = of.water.map(|water| water.film);
    Water {
        film: film.and_then(|film| show.depth(film.depth)),
        holds: of.water.and_then(|water| show.depth(water.holds)),
        evaporation: film
            .and_then(|film| show.depth(RainDepth::from_millimeters(film.evaporation_mm_per_h))),
        frost: film.map(|film| film.frost),
        as_of: film.map(|film| show.time(film.time)),
        see: See::Film.place().to_owned(),
    }
}

pub(super) fn people(of: &Explanation, show: &Show) -> People {
    People {
        heat_index: of.heat_index.and_then(|felt| show.temperature(felt)),
        wind_chill: of.wind_chill.and_then(|felt| show.temperature(felt)),
        see: See::People.place().to_owned(),
    }
}
