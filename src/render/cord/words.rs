//! Sentences about generator and cords.

use crate::physics::cord::Conductor;
use crate::plan::power::{
    CordReport, DropVerdict, GeneratorReport, MissingKey, PowerReport, Unchecked, WhatIf,
};
use crate::render::figures::{self, whole};
use crate::units::{Length, UnitSystem};

/// What stands behind the figures.
pub(super) fn taken(units: UnitSystem) -> Vec<String> {
    let derating = match units {
        UnitSystem::Us => "3.5 % for each 1000 ft, 1 % for each 10 °F above 77 °F",
        UnitSystem::Metric => "3.5 % for each 305 m, 1 % for each 5.6 °C above 25 °C",
    };
    let derating = format!(
        "Height and heat take {derating} (common practice), or what the alternator must be spared \
         if that is more (as generator manuals print it). The maker's own figures come first."
    );
    TAKEN.map(str::to_owned).into_iter().chain([derating]).collect()
}

const TAKEN: [&str; 4] = [
    "The generator is taken to give the voltage of the welder's plate. Plugs, sockets and a bad \
     contact take more; a meter at the welder, with its heater on, has the last word.",
    "Every welder is taken to hang on a cord of its own of this size and length, its heater full \
     on.",
    "Copper at 75 °C, as in the code's table; in a cool cord the drop is about a fifth less.",
    "Advice on drop: 3 % for a branch, 5 % in all, from notes in the NEC, which are no rule.",
];

/// The usual cautions, as far as they are about power.
pub(super) const CAUTIONS: [&str; 3] = [
    "Generator: carbon monoxide kills. Outdoors only, away from doors, windows and air intakes. \
     Never fuel it hot or running. Grounded, GFCI where required. (common practice)",
    "These figures say what a cord loses, not what it may carry: that stands on the cord and in \
     the code. Lay it out straight: a coil gets hot. No worn or taped cords. (common practice)",
    "Local codes and the makers' instructions come first; wiring is work for a licensed \
     electrician.",
];

/// `10 AWG`, `1/0 AWG`, `2.5 mm²`.
pub fn size(conductor: Conductor) -> String {
    match conductor {
        Conductor::Awg(0) => "1/0 AWG".to_owned(),
        Conductor::Awg(gauge) => format!("{gauge} AWG"),
        Conductor::SquareMillimeters(area) => format!("{} mm²", trimmed(area)),
    }
}

/// `10 AWG, 100 ft`.
pub(super) fn cord(conductor: Conductor, length: Length, units: UnitSystem) -> String {
    format!("{}, {}", size(conductor), self::length(length, units))
}

/// `100 ft`, `30.5 m`.
pub(super) fn length(length: Length, units: UnitSystem) -> String {
    format!("{} {}", trimmed(length.in_units(units)), units.length())
}

/// `126 ft`: rounded down, for a limit must not be rounded up.
pub(super) fn at_most(length: Length, units: UnitSystem) -> String {
    // A limit of just 200 ft must not become 199 by the last bit of a division.
    let floor = (length.in_units(units) + 1e-9).floor();
    if floor < 1.0 {
        format!("under 1 {}", units.length())
    } else {
        format!("{floor:.0} {}", units.length())
    }
}

/// `12`, `2.5`: one decimal where there is one.
fn trimmed(value: f64) -> String {
    let text = format!("{:.1}", figures::round_to(value, 10.0));
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// Which cord is looked at instead of the site file's.
pub(super) fn what_if(what_if: &WhatIf, units: UnitSystem) -> Option<String> {
    let parts =
        [what_if.conductor.map(size), what_if.length.map(|length| self::length(length, units))];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty())
        .then(|| format!("What if: {} in place of the site file's cord.", parts.join(", ")))
}

/// Whether the generator will do.
pub(super) fn generator_verdict(generator: &GeneratorReport) -> String {
    let small = match generator.wanted_rating.filter(|_| generator.is_small()) {
        Some(wanted) => format!(
            " Rated below the {} W that the trade wants for an automatic welder alone.",
            whole(wanted)
        ),
        None => String::new(),
    };
    let Some(load) = &generator.load else {
        return format!("What hangs on it is not known, so its margin is not either.{small}");
    };
    let share = whole(100.0 * load.share);
    let least = if load.unrated.is_empty() { "" } else { "at least " };
    if generator.is_short() {
        format!("SHORT. The load is {least}{share} % of what is left.{small}")
    } else {
        format!("Carries it: the load is {least}{share} % of what is left.{small}")
    }
}

/// What height and heat leave.
pub(super) fn generator_left(generator: &GeneratorReport, report: &PowerReport) -> String {
    let air = figures::temperature(report.air, report.units);
    let elevation = match generator.elevation {
        Some(elevation) => length(elevation, report.units),
        None => "sea level".to_owned(),
    };
    let mut text = format!(
        "{} W, {} %, at {elevation} in air of {air}.",
        whole(generator.watts_available),
        whole(100.0 * generator.factor)
    );
    if generator.elevation.is_none() {
        text.push_str(
            " That is the most there can be: add `elevation` to the site file, for height takes \
             its share.",
        );
    }
    if !report.air_given {
        text.push_str(&format!(" {air} is the air of the rating; give the day's heat with --air."));
    }
    text
}

/// What hangs on the generator.
pub(super) fn generator_load(generator: &GeneratorReport) -> String {
    let Some(load) = &generator.load else {
        return "unknown: add `rated_watts` to the `[[welders]]` from the machine's plate"
            .to_owned();
    };
    let unrated = if load.unrated.is_empty() {
        String::new()
    } else {
        format!(
            "; not counted, for want of `rated_watts` in the site file: {}",
            load.unrated.join(", ")
        )
    };
    format!("{} W: {}{unrated}", whole(load.watts), load.welders.join(", "))
}

/// Who shares the generator.
pub(super) fn sharing(report: &PowerReport) -> String {
    let own = if report.automatic_welders > 1 {
        " Each automatic welder is taken to have one like it."
    } else {
        ""
    };
    match report.dedicated {
        Some(true) => format!("The site file says: for the automatic welder alone.{own}"),
        Some(false) if report.automatic_shares() => {
            "Shared by all welders of the site, and whatever else is plugged in comes on top. Give \
             the automatic welder one to itself. (common practice)"
                .to_owned()
        }
        Some(false) => "Shared by all welders of the site, and whatever else is plugged in comes \
                        on top."
            .to_owned(),
        None => format!(
            "The site file does not say (`dedicated`): counted for one welder alone.{own} Screw \
             guns and hand welders go elsewhere. (common practice)"
        ),
    }
}

/// Whether the cord will do.
pub(super) fn cord_verdict(cord: &CordReport) -> &'static str {
    match cord.now.verdict() {
        DropVerdict::Within => "Within the 3 % advised for a branch.",
        DropVerdict::OverBranch => "TOO LONG OR TOO THIN: over the 3 % advised for a branch.",
        DropVerdict::OverTotal => {
            "FAR TOO LONG OR TOO THIN: over the 5 % advised from source to outlet."
        }
    }
}

/// What the drop does to the weld.
pub(super) fn effect(cord: &CordReport, report: &PowerReport) -> String {
    let units = report.units;
    let least = figures::difference_whole(cord.lost.least, units);
    let least = least.trim_end_matches(units.temperature()).trim_end();
    format!(
        "At full output the nozzle air loses {least} to {} of its {} over air of {}, less where \
         the blower slows with the voltage. A controlled heater hides it until it is full on: \
         then the heat that is set is no longer reached.",
        figures::difference_whole(cord.lost.most, units),
        figures::difference_whole(cord.rise, units),
        figures::temperature(report.air, units)
    )
}

/// Why something was not checked, or which keys would change that.
pub(super) fn unchecked(why: &Unchecked, units: UnitSystem) -> String {
    match why {
        Unchecked::Missing(keys) => add(keys, units),
        Unchecked::CordOutside(conductor, length) => format!(
            "{} is beyond the tables, which have 18 AWG to 1/0 AWG and 1.5 to 16 mm²",
            cord(*conductor, *length, units)
        ),
        Unchecked::DeratingOutside => {
            let range = match units {
                UnitSystem::Us => "from -1640 to 13120 ft and from -40 to 140 °F",
                UnitSystem::Metric => "from -500 to 4000 m and from -40 to 60 °C",
            };
            format!("elevation or air is beyond the derating rule, which holds {range}")
        }
    }
}

/// One sentence for a site file that gives too little for any check.
pub fn nothing_to_check(report: &PowerReport) -> String {
    let cords = report.cords.iter().filter_map(|welder| welder.cord.as_ref().err());
    let mut keys: Vec<MissingKey> = Vec::new();
    let mut beyond: Vec<String> = Vec::new();
    for why in report.generator.as_ref().err().into_iter().chain(cords) {
        match why {
            Unchecked::Missing(missing) => keys.extend(missing),
            outside => beyond.push(unchecked(outside, report.units)),
        }
    }
    keys.sort_unstable();
    keys.dedup();
    beyond.dedup();
    let keys = (!keys.is_empty()).then(|| add(&keys, report.units));
    let parts: Vec<String> = beyond.into_iter().chain(keys).collect();
    format!("the site file leaves neither generator nor cord to check; {}", parts.join("; "))
}

/// ``add `cord_length` (one way, ft) to `[power]` ``.
fn add(keys: &[MissingKey], units: UnitSystem) -> String {
    let on_the_plate = |key: &&MissingKey| key_is_on_the_plate(**key);
    let (plate, power): (Vec<&MissingKey>, Vec<&MissingKey>) = keys.iter().partition(on_the_plate);
    let names = |keys: &[&MissingKey]| {
        listed(&keys.iter().map(|key| key_name(**key, units)).collect::<Vec<_>>())
    };
    let power = (!power.is_empty()).then(|| format!("{} to `[power]`", names(&power)));
    let plate = (!plate.is_empty())
        .then(|| format!("{} from the machine's plate to its `[[welders]]` table", names(&plate)));
    let parts: Vec<String> = power.into_iter().chain(plate).collect();
    format!("add {}", parts.join(", and "))
}

const fn key_is_on_the_plate(key: MissingKey) -> bool {
    matches!(key, MissingKey::RatedWatts | MissingKey::RatedVolts)
}

fn key_name(key: MissingKey, units: UnitSystem) -> String {
    match (key, units) {
        (MissingKey::GeneratorWatts, _) => "`generator_watts` (continuous)".to_owned(),
        (MissingKey::CordSize, UnitSystem::Us) => "`cord_gauge_awg`".to_owned(),
        (MissingKey::CordSize, UnitSystem::Metric) => "`cord_mm2`".to_owned(),
        (MissingKey::CordLength, _) => format!("`cord_length` (one way, {})", units.length()),
        (MissingKey::RatedWatts, _) => "`rated_watts`".to_owned(),
        (MissingKey::RatedVolts, _) => "`rated_volts`".to_owned(),
    }
}

/// `a`, `a and b`, `a, b and c`.
fn listed(items: &[String]) -> String {
    match items {
        [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
        _ => items.concat(),
    }
}
