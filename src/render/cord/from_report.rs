//! From a report to its JSON.

use super::{wire, words};
use crate::physics::cord::Conductor;
use crate::plan::power::{
    CordOption, CordReport, DropVerdict, GeneratorReport, PowerReport, WhatIf,
};
use crate::render::json::{Figure, to_text};
use crate::units::{Length, UnitSystem};

/// The report as indented JSON with a line end.
pub fn cord_json(report: &PowerReport, what_if: &WhatIf) -> String {
    let mut text = to_text(&wire_report(report, what_if));
    text.push('\n');
    text
}

/// The JSON Schema of [`cord_json`], as kept in `docs/cord.schema.json`.
pub fn cord_schema() -> String {
    let mut text = to_text(&schemars::schema_for!(wire::CordJson));
    text.push('\n');
    text
}

fn wire_report(report: &PowerReport, what_if: &WhatIf) -> wire::CordJson {
    let units = report.units;
    let generator = report.generator.as_ref();
    let why = |about: &str, why| wire::NotChecked {
        about: about.to_owned(),
        why: words::unchecked(why, units),
    };
    let not_checked = generator.err().map(|reason| why("generator", reason));
    let cords = report.cords.iter();
    let not_checked = not_checked
        .into_iter()
        .chain(cords.filter_map(|welder| Some(why(&welder.welder, welder.cord.as_ref().err()?))));
    let cords = report.cords.iter();
    wire::CordJson {
        fairseam: 1,
        site: report.site.clone(),
        units: wire_units(units),
        air: Figure::rounded(report.air.in_units(units), 1),
        air_given: report.air_given,
        what_if: (!what_if.is_empty()).then(|| wire::WhatIf {
            size: what_if.conductor.map(size),
            length: what_if.length.and_then(|length| self::length(length, units)),
        }),
        generator: generator.ok().map(|checked| self::generator(checked, report)),
        cords: cords
            .filter_map(|welder| Some(cord(&welder.welder, welder.cord.as_ref().ok()?, report)))
            .collect(),
        not_checked: not_checked.collect(),
        notes: words::taken(units),
        cautions: words::CAUTIONS.map(str::to_owned).to_vec(),
    }
}

fn wire_units(units: UnitSystem) -> wire::Units {
    wire::Units {
        temperature: units.temperature_code().to_owned(),
        length: units.length().to_owned(),
        power: "W".to_owned(),
        voltage: "V".to_owned(),
        current: "A".to_owned(),
        resistance: "ohm".to_owned(),
    }
}

fn generator(generator: &GeneratorReport, report: &PowerReport) -> wire::Generator {
    let load = generator.load.as_ref();
    wire::Generator {
        verdict: match load {
            None => wire::GeneratorVerdict::Unknown,
            Some(_) if generator.is_short() => wire::GeneratorVerdict::Short,
            Some(_) => wire::GeneratorVerdict::Carries,
        },
        small: generator.is_small(),
        rated: Figure::rounded(generator.rated_watts, 0),
        wanted_rating: generator.wanted_rating.and_then(|watts| Figure::rounded(watts, 0)),
        elevation: generator.elevation.and_then(|elevation| length(elevation, report.units)),
        left_percent: percent(generator.factor),
        left: Figure::rounded(generator.watts_available, 0),
        dedicated: report.dedicated,
        load: load.map(|load| wire::Load {
            total: Figure::rounded(load.watts, 0),
            welders: load.welders.clone(),
            unrated: load.unrated.clone(),
            margin: Figure::rounded(load.margin_watts, 0),
            percent: percent(load.share),
        }),
        text: words::generator_verdict(generator),
    }
}

fn cord(welder: &str, cord: &CordReport, report: &PowerReport) -> wire::Cord {
    let units = report.units;
    let check = &cord.now.check;
    let difference =
        |value: crate::units::TemperatureDifference| Figure::rounded(value.in_units(units), 1);
    wire::Cord {
        welder: welder.to_owned(),
        rated_power: Figure::rounded(cord.load.rated_watts, 1),
        rated_voltage: Figure::rounded(cord.load.rated_volts, 1),
        now: option(&cord.now, units),
        current: Figure::rounded(check.amps, 2),
        loop_resistance: Figure::rounded(check.loop_ohms, 4),
        voltage: Figure::rounded(check.volts_at_welder, 2),
        textbook_drop: Figure::rounded(check.rated_drop_volts, 2),
        textbook_drop_percent: percent(check.rated_drop_volts / cord.load.rated_volts),
        rise: difference(cord.rise),
        lost_heat: wire::Range {
            low: difference(cord.lost.least),
            high: difference(cord.lost.most),
        },
        effect: words::effect(cord, report),
        others: cord.others.iter().map(|other| option(other, units)).collect(),
    }
}

fn option(option: &CordOption, units: UnitSystem) -> wire::CordOption {
    wire::CordOption {
        size: size(option.conductor),
        length: length(option.length, units),
        verdict: match option.verdict() {
            DropVerdict::Within => wire::DropVerdict::Within,
            DropVerdict::OverBranch => wire::DropVerdict::OverBranch,
            DropVerdict::OverTotal => wire::DropVerdict::OverTotal,
        },
        drop: Figure::rounded(option.check.drop_volts, 2),
        drop_percent: percent(option.check.drop_fraction),
        power: Figure::rounded(option.check.watts_at_welder, 0),
        power_percent: percent(option.check.watts_fraction),
        // Down, for a limit must not be rounded up.
        longest: Figure::rounded((10.0 * option.longest.in_units(units)).floor() / 10.0, 1),
    }
}

fn size(conductor: Conductor) -> wire::Size {
    match conductor {
        Conductor::Awg(gauge) => wire::Size { awg: Some(gauge), mm2: None },
        Conductor::SquareMillimeters(area) => {
            wire::Size { awg: None, mm2: Figure::rounded(area, 2) }
        }
    }
}

fn length(length: Length, units: UnitSystem) -> Option<Figure> {
    Figure::rounded(length.in_units(units), 1)
}

fn percent(share: f64) -> Option<Figure> {
    Figure::rounded(100.0 * share, 2)
}
