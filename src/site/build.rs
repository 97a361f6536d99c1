//! From values found sound to the site.

use super::section::{NoValue, Section, Sections};
use super::shift_check::minutes_after;
use super::{
    Break, Kind, Optics, Power, Publish, Reminders, Roll, Rules, Sheet, Shift, Site,
    WeatherSettings, Welder,
};
use crate::units::{
    BondWidth, Length, RainDepth, Temperature, TemperatureDifference, Thickness, TravelSpeed,
    UnitSystem, WindSpeed,
};

/// Asks for a value that must be there.
macro_rules! need {
    ($section:ident.$kind:ident($path:literal)) => {
        $section.$kind($path).ok_or(NoValue($path))?
    };
}

/// The site that these values describe.
pub(super) fn build(sections: &Sections, units: UnitSystem) -> Result<Site, NoValue> {
    let top = sections.table("")?;
    let power = sections.table("power")?;
    let welders: Result<Vec<_>, _> =
        sections.list("welders[]").map(|section| welder(section, units)).collect();
    Ok(Site {
        name: need!(top.text("name")),
        id: top.text("id"),
        latitude_deg: need!(top.number("latitude_deg")),
        longitude_deg: need!(top.number("longitude_deg")),
        elevation: top.number("elevation").map(|height| Length::from_units(height, units)),
        time_zone: top.zone("time_zone"),
        units,
        language: need!(top.choice("language")),
        shift: shift(sections)?,
        sheet: sheet(sections.table("sheet")?, units)?,
        roll: roll(sections.table("sheet")?, units),
        welders: welders?,
        power: power.present.then(|| self::power(power, units)),
        rules: rules(sections.table("rules")?, units)?,
        weather: weather(sections.table("weather")?)?,
        reminders: reminders(sections.table("reminders")?)?,
        publish: publish(sections.table("publish")?),
    })
}

fn shift(sections: &Sections) -> Result<Shift, NoValue> {
    let shift = sections.table("shift")?;
    let start = need!(shift.time("shift.start"));
    let mut breaks = Vec::new();
    for entry in sections.list("shift.breaks[]") {
        breaks.push(Break {
            name: need!(entry.text("shift.breaks[].name")),
            start: need!(entry.time("shift.breaks[].start")),
            minutes: need!(entry.whole("shift.breaks[].minutes")),
        });
    }
    breaks.sort_by_key(|stop| minutes_after(start, stop.start));
    let end = need!(shift.time("shift.end"));
    Ok(Shift { start, end, workdays: need!(shift.choices("shift.workdays")), breaks })
}

fn sheet(sheet: &Section, units: UnitSystem) -> Result<Sheet, NoValue> {
    Ok(Sheet {
        polymer: need!(sheet.choice("sheet.polymer")),
        thickness: Thickness::from_units(need!(sheet.number("sheet.thickness")), units),
        optics: Optics {
            color: need!(sheet.choice("sheet.color")),
            aged: need!(sheet.flag("sheet.aged")),
            solar_reflectance: sheet.number("sheet.solar_reflectance"),
            thermal_emittance: sheet.number("sheet.thermal_emittance"),
        },
    })
}

fn roll(sheet: &Section, units: UnitSystem) -> Roll {
    let length =
        |path: &'static str| sheet.number(path).map(|size| Length::from_units(size, units));
    let lap = sheet.number("sheet.lap").map(|lap| BondWidth::from_units(lap, units));
    Roll {
        width: length("sheet.width"),
        lap: lap.map(|lap| Length::from_meters(lap.millimeters() / 1000.0)),
        length: length("sheet.roll_length"),
    }
}

fn welder(welder: &Section, units: UnitSystem) -> Result<Welder, NoValue> {
    let kind = need!(welder.choice("welders[].kind"));
    let step = need!(welder.number("welders[].heat_step"));
    let speed = match kind {
        Kind::Hand => None,
        Kind::Automatic => Some((
            TravelSpeed::from_units(need!(welder.number("welders[].speed_min")), units),
            TravelSpeed::from_units(need!(welder.number("welders[].speed_max")), units),
        )),
    };
    Ok(Welder {
        name: need!(welder.text("welders[].name")),
        kind,
        heat_low: Temperature::from_units(need!(welder.number("welders[].heat_low")), units),
        heat_max: Temperature::from_units(need!(welder.number("welders[].heat_max")), units),
        heat_step: TemperatureDifference::from_units(step, units),
        speed,
        rated_watts: welder.number("welders[].rated_watts"),
        rated_volts: welder.number("welders[].rated_volts"),
    })
}

fn power(power: &Section, units: UnitSystem) -> Power {
    Power {
        generator_watts: power.number("power.generator_watts"),
        dedicated: power.flag("power.dedicated"),
        cord_gauge_awg: power.whole("power.cord_gauge_awg"),
        cord_mm2: power.number("power.cord_mm2"),
        cord_length: power
            .number("power.cord_length")
            .map(|length| Length::from_units(length, units)),
    }
}

fn rules(rules: &Section, units: UnitSystem) -> Result<Rules, NoValue> {
    let ambient_change = need!(rules.number("rules.ambient_change"));
    Ok(Rules {
        ambient_change: TemperatureDifference::from_units(ambient_change, units),
        break_needs_test_minutes: need!(rules.whole("rules.break_needs_test_minutes")),
        merge_within_minutes: need!(rules.whole("rules.merge_within_minutes")),
        last_test_before_end_minutes: need!(rules.whole("rules.last_test_before_end_minutes")),
        trial_minutes: need!(rules.whole("rules.trial_minutes")),
        max_hours_between: need!(rules.number("rules.max_hours_between")),
        speed_drift: TravelSpeed::from_units(need!(rules.number("rules.speed_drift")), units),
        carry_days: need!(rules.whole("rules.carry_days")),
        rain_hold: RainDepth::from_units(need!(rules.number("rules.rain_hold")), units),
        snow_hold: RainDepth::from_units(need!(rules.number("rules.snow_hold")), units),
        cold_care: Temperature::from_units(need!(rules.number("rules.cold_care")), units),
        gust_care: WindSpeed::from_units(need!(rules.number("rules.gust_care")), units),
        wind_shield: WindSpeed::from_units(need!(rules.number("rules.wind_shield")), units),
        wind_stop: WindSpeed::from_units(need!(rules.number("rules.wind_stop")), units),
        thunder_hold_pct: need!(rules.number("rules.thunder_hold_pct")),
        thunder_clear_minutes: need!(rules.whole("rules.thunder_clear_minutes")),
        dew_margin: TemperatureDifference::from_units(
            need!(rules.number("rules.dew_margin")),
            units,
        ),
        film_dry: RainDepth::from_units(need!(rules.number("rules.film_dry")), units),
        heat_care: Temperature::from_units(need!(rules.number("rules.heat_care")), units),
        seal_minutes: need!(rules.whole("rules.seal_minutes")),
        sheet_shift_heat: rules
            .number("rules.sheet_shift_heat")
            .map(|heat| TemperatureDifference::from_units(heat, units)),
        standby_pct: need!(rules.number("rules.standby_pct")),
        tell_after_minutes: need!(rules.whole("rules.tell_after_minutes")),
        withdraw_after_forecasts: need!(rules.whole("rules.withdraw_after_forecasts")),
        footage_target: rules
            .number("rules.footage_target")
            .map(|length| Length::from_units(length, units)),
        crew_size: rules.whole("rules.crew_size"),
        crew_cost_per_hour: rules.number("rules.crew_cost_per_hour"),
        strip_min_width: BondWidth::from_units(need!(rules.number("rules.strip_min_width")), units),
        strip_target_width: BondWidth::from_units(
            need!(rules.number("rules.strip_target_width")),
            units,
        ),
        heat_increment: TemperatureDifference::from_units(
            need!(rules.number("rules.heat_increment")),
            units,
        ),
    })
}

fn weather(weather: &Section) -> Result<WeatherSettings, NoValue> {
    Ok(WeatherSettings {
        source: need!(weather.choice("weather.source")),
        contact: weather.text("weather.contact"),
        path: weather.text("weather.path"),
        base_url: weather.text("weather.base_url"),
        api_key: weather.text("weather.api_key"),
        non_commercial: need!(weather.flag("weather.non_commercial")),
    })
}

fn publish(publish: &Section) -> Publish {
    Publish {
        ics: publish.text("publish.ics"),
        caldav: publish.text("publish.caldav"),
        caldav_login: publish.text("publish.caldav_login"),
    }
}

fn reminders(reminders: &Section) -> Result<Reminders, NoValue> {
    Ok(Reminders {
        before_minutes: need!(reminders.wholes("reminders.before_minutes")),
        evening_before: reminders.time("reminders.evening_before"),
        short_name: reminders.text("reminders.short_name"),
    })
}
