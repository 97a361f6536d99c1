//! Forecast, sun, sheet, water and people of one minute.

use super::amounts::{self, decimals};
use super::line::{Line, Section};
use super::see::See;
use super::words;
use crate::physics::humidity::Condensation;
use crate::plan::{Explanation, Reading};
use crate::units::RainDepth;
use crate::weather::HourSum;

/// The sections from the forecast to the people.
pub(super) fn sections(of: &Explanation) -> Vec<Section> {
    vec![
        Section { title: "Forecast of this minute", lines: forecast(of) },
        Section { title: "Sun and sky", lines: sun_and_sky(of) },
        Section { title: "Sheet", lines: sheet(of) },
        Section { title: "Water on the sheet", lines: water(of) },
        Section { title: "People", lines: people(of) },
    ]
}

fn forecast(of: &Explanation) -> Vec<Line> {
    let (weather, units) = (&of.weather, of.units);
    let temperature = |value| amounts::temperature(value, units);
    let degrees = |value: crate::units::Temperature| decimals(value.in_units(units), 1);
    let speed = |value: crate::units::WindSpeed| decimals(value.in_units(units), 1);
    let whole = |value| decimals(value, 0);
    let pressure = |value| format!("{} hPa", decimals(value, 0));
    let of_hour = "of the hour";
    vec![
        reading(of, "Air", See::Forecast, &weather.air, temperature, degrees),
        reading(of, "Dew point", See::Humidity, &weather.dew_point, temperature, degrees),
        reading(
            of,
            "Relative humidity",
            See::Humidity,
            &weather.humidity_pct,
            amounts::percent,
            whole,
        ),
        reading(
            of,
            "Wind at 10 m",
            See::Forecast,
            &weather.wind,
            |value| amounts::wind(value, units),
            speed,
        ),
        reading(
            of,
            "Cloud cover",
            See::Forecast,
            &weather.cloud_cover_pct,
            amounts::percent,
            whole,
        ),
        reading(of, "Air pressure", See::Humidity, &weather.surface_pressure_hpa, pressure, whole),
        Line::of("Gust", weather.row.gust.map(|gust| amounts::wind(gust, units)), See::Forecast)
            .note(of_hour),
        sum(of, "Rain", weather.row.rain),
        sum(of, "Snow", weather.row.snow),
        Line::of(
            "Chance of rain",
            weather.row.precipitation_probability_pct.map(amounts::percent),
            See::Forecast,
        )
        .note(of_hour),
    ]
}

fn reading<T: Copy>(
    of: &Explanation,
    name: &'static str,
    see: See,
    reading: &Reading<T>,
    shown: impl Fn(T) -> String,
    number: impl Fn(T) -> String,
) -> Line {
    let note = words::origin(&reading.origin, of, number);
    Line::of(name, reading.value.map(shown), see).note(note)
}

fn sum(of: &Explanation, name: &'static str, sum: Option<HourSum>) -> Line {
    let amount = |depth| amounts::depth(depth, of.units);
    let note = match sum {
        Some(HourSum { total, over_hours: 2.., .. }) => {
            let hours = sum.map_or(1, |sum| sum.over_hours);
            format!("the hour's share of {} within {hours} hours", amount(total))
        }
        Some(_) => "of the hour".to_owned(),
        None => "not in this forecast".to_owned(),
    };
    Line::of(name, sum.map(|sum| amount(sum.share)), See::Forecast).note(note)
}

fn sun_and_sky(of: &Explanation) -> Vec<Line> {
    let (sun, sky) = (&of.sun, &of.sky);
    let share = |value| decimals(value, 3);
    let source = sun.radiation.map(|radiation| words::radiation_source(radiation.source));
    vec![
        Line::of("Sun's elevation", sun.elevation_deg.map(amounts::degrees), See::Sun)
            .note("center, without refraction"),
        Line::of("Solar time", sun.solar_hour.map(solar_time), See::Sun),
        Line::of("Clear sky", sun.clear_sky_w_m2.map(amounts::radiation), See::Radiation),
        Line::of("Clear sky, mean", sun.clear_mean_w_m2.map(amounts::radiation), See::Radiation)
            .note("of the hour"),
        Line::of("Source, mean", sun.told_mean_w_m2.map(amounts::radiation), See::Radiation)
            .note("of the hour"),
        Line::of("Cloud lets through", sun.cloud_passes.map(share), See::Radiation),
        Line::of(
            "Radiation on roof",
            sun.radiation.map(|radiation| amounts::radiation(radiation.w_m2)),
            See::Radiation,
        )
        .note(source.unwrap_or("neither radiation nor cloud in this forecast")),
        Line::of("Emissivity, clear", sky.clear_emissivity.map(share), See::Sky)
            .note("of a sky without cloud"),
        Line::of("Emissivity", sky.emissivity.map(share), See::Sky).note("with its cloud"),
        Line::of(
            "Sky temperature",
            sky.temperature.map(|sky| amounts::temperature(sky, of.units)),
            See::Sky,
        ),
    ]
}

fn solar_time(hour: f64) -> String {
    // To the minute; 24:00 is 00:00 of the next day.
    let minutes = (hour * 60.0).round().rem_euclid(1440.0);
    format!("{:02.0}:{:02.0}", (minutes / 60.0).floor(), minutes % 60.0)
}

fn sheet(of: &Explanation) -> Vec<Line> {
    let (sheet, units) = (&of.sheet, of.units);
    let temperature = |value| amounts::temperature(value, units);
    let convection = sheet.convection_w_m2_k;
    let (settles_at, as_what) = match sheet.condensation {
        Some(Condensation::Dew(at)) => (Some(at), "dew settles at this and below"),
        Some(Condensation::Frost(at)) => (Some(at), "frost settles at this and below"),
        None => (None, "neither dew point nor humidity in this forecast"),
    };
    let mut lines = optics(of);
    lines.extend([
        Line::of(
            "Convection",
            convection.map(|range| format!("{} W/(m² K)", decimals(range.nominal, 1))),
            See::Sheet,
        )
        .note(convection.map_or_else(String::new, |range| {
            format!("low {}, high {}", decimals(range.low, 1), decimals(range.high, 1))
        })),
        Line::of(
            "Dry sheet",
            sheet.temperature.map(|range| temperature(range.nominal)),
            See::Sheet,
        )
        .note(sheet.temperature.map_or_else(String::new, |range| {
            format!("low {}, high {}", temperature(range.low), temperature(range.high))
        })),
        Line::of("Dew or frost point", settles_at.map(temperature), See::Humidity).note(as_what),
        Line::of(
            "Sheet above that",
            sheet.dew_margin.map(|margin| amounts::difference(margin, units)),
            See::Humidity,
        ),
    ]);
    lines
}

fn optics(of: &Explanation) -> Vec<Line> {
    let optics = of.sheet.optics;
    let from = |given: bool, of_color: String| {
        if given { "given by the site file".to_owned() } else { of_color }
    };
    let age = |aged: bool| if aged { "aged" } else { "new" };
    vec![
        Line::of(
            "Solar reflectance",
            optics.map(|optics| decimals(optics.solar_reflectance, 2)),
            See::Optics,
        )
        .note(optics.map_or_else(String::new, |optics| {
            let preset =
                format!("preset of a {} {} sheet", age(optics.aged), words::color(optics.color));
            from(optics.reflectance_given, preset)
        })),
        Line::of(
            "Thermal emittance",
            optics.map(|optics| decimals(optics.thermal_emittance, 2)),
            See::Optics,
        )
        .note(optics.map_or_else(String::new, |optics| {
            from(
                optics.emittance_given,
                format!("preset of a {} sheet", words::color(optics.color)),
            )
        })),
    ]
}

fn water(of: &Explanation) -> Vec<Line> {
    let (water, units) = (of.water, of.units);
    let state = water.map(|water| match (water.film.depth.millimeters() > 0.0, water.film.frost) {
        (false, _) => "dry",
        (true, false) => "wet",
        (true, true) => "frozen",
    });
    let an_hour = |mm_per_h| {
        let depth = amounts::depth(RainDepth::from_millimeters(mm_per_h), units);
        format!("{depth}/h")
    };
    vec![
        Line::of("Film", water.map(|water| amounts::depth(water.film.depth, units)), See::Film)
            .note(water.map_or_else(
                || "takes rain, dew point, wind, and cloud or radiation".to_owned(),
                |water| format!("the sheet holds up to {}", amounts::depth(water.holds, units)),
            )),
        Line::of(
            "Evaporation",
            water.map(|water| an_hour(water.film.evaporation_mm_per_h)),
            See::Film,
        )
        .note("from a wet sheet; below zero dew or frost settles"),
        Line::of("State", state.map(str::to_owned), See::Film),
    ]
}

fn people(of: &Explanation) -> Vec<Line> {
    let temperature = |value| amounts::temperature(value, of.units);
    let chill = match of.wind_chill {
        Some(chill) => Line::new("Wind chill", temperature(chill), See::People),
        None if of.weather.air.value.and(of.weather.wind.value).is_some() => {
            Line::new("Wind chill", "none".to_owned(), See::People)
                .note("defined in cold and wind only")
        }
        None => Line::of("Wind chill", None, See::People),
    };
    vec![Line::of("Heat index", of.heat_index.map(temperature), See::People), chill]
}
