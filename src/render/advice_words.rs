//! Every piece of advice in words, each with its source or *common practice*.

use chrono::{DateTime, Utc};

use super::figures;
use crate::plan::{Advice, DayPlan, HeatSchedule};
use crate::units::UnitSystem;

/// A piece of advice, with its source or *common practice*.
pub fn advice(advice: &Advice, plan: &DayPlan) -> String {
    let units = plan.units;
    let clock = |at: DateTime<Utc>| figures::clock(at, plan.time_zone);
    match advice {
        Advice::Stale => {
            "This forecast could not be renewed. Look at the sky, and plan again before work \
             starts. (common practice)"
                .to_owned()
        }
        Advice::Lightning { clear_minutes } => format!(
            "Thunder: get off the roof into a closed building or a hard-top vehicle, and stay \
             there until {clear_minutes} min after the last thunder. Start nothing that cannot be \
             stopped fast. (OSHA/NOAA FS-3863)"
        ),
        Advice::StormWind { from } => format!(
            "Wind or gusts of {} or more: stop, tie down and clear the roof. A U.S. rule for line \
             work calls more than 40 mph a high wind. (29 CFR 1926.968; common practice on roofs)",
            figures::wind(*from, units)
        ),
        Advice::Seal { rain_from, sealed_by, after_shift: false } => format!(
            "Rain from {}: everything open sealed by {}. Open no more roof than that. \
             (common practice)",
            clock(*rain_from),
            clock(*sealed_by)
        ),
        Advice::Seal { rain_from, sealed_by, .. } => format!(
            "Rain from {} after work: everything open sealed by {}. (common practice)",
            clock(*rain_from),
            clock(*sealed_by)
        ),
        Advice::Dusk { dark_from } => format!(
            "Dark from {}: seal what is open while it can be seen, and have light for the test \
             welds. (common practice)",
            clock(*dark_from)
        ),
        Advice::Wet => {
            "Nothing wet gets welded: moisture in the lap flashes to steam. Dry and wipe the lap, \
             and test again before welding resumes. (common practice)"
                .to_owned()
        }
        Advice::Dew => {
            let margin = match units {
                UnitSystem::Us => "5 °F",
                UnitSystem::Metric => "3 °C",
            };
            format!(
                "Dew: wipe the lap and look before the first weld; coating practice asks for a \
                 surface at least {margin} above the dew point. (ISO 8502-4, as coating guides \
                 cite it)"
            )
        }
        Advice::Ice => {
            "Frost or ice: a slick roof. Keep off until it has gone, and fall protection on. \
             (29 CFR 1926.451(f)(8) for scaffolds; common practice on roofs)"
                .to_owned()
        }
        Advice::Heat { index, schedule, test_after_minutes } => {
            let schedule = match schedule {
                HeatSchedule::Usual => String::new(),
                HeatSchedule::Rest { work_minutes, rest_minutes } => format!(
                    " The CDC/NIOSH schedule for moderate work asks for {rest_minutes} min of rest \
                     after {work_minutes} min of work."
                ),
                HeatSchedule::Beyond => {
                    " The CDC/NIOSH schedule for moderate work goes no further than this heat: \
                     move the work to a cooler hour."
                        .to_owned()
                }
            };
            format!(
                "Heat index up to {} in the shade, more in the sun: water, shade, rest, and new \
                 hands eased in.{schedule} A rest of {test_after_minutes} min or more asks for a \
                 test weld after it. (NWS heat index; CDC/NIOSH 2017-127)",
                figures::temperature(*index, units)
            )
        }
        Advice::Cold { below, wind_chill } => {
            let chill = wind_chill.map_or_else(String::new, |chill| {
                format!(
                    " Wind chill down to {}: warm hands make better welds.",
                    figures::temperature(chill, units)
                )
            });
            format!(
                "Air below {}: keep the rolls warm, go slower, test more often. Many \
                 specifications stop adhesives and membrane work there: look yours up.{chill} \
                 (common practice)",
                figures::temperature(*below, units)
            )
        }
        Advice::Gust => {
            "Gusts cool the lap, steal the air flow and turn sheets into sails: shield the \
             welder, weight the rolls, two hands on every sheet. (common practice)"
                .to_owned()
        }
        Advice::Shield => {
            "Wind: shield the welder and test behind the same shield. (common practice)".to_owned()
        }
        Advice::GeneratorShort { available_w, wanted_w } => format!(
            "Generator: no more than {} W are left of it at this height and heat; what hangs on \
             it takes {} W. Starved of voltage a welder runs cold. (common practice; derating as \
             generator manuals print it)",
            figures::whole(*available_w),
            figures::whole(*wanted_w)
        ),
        Advice::GeneratorSmall { rated_w, wanted_w } => format!(
            "Generator: rated {} W; the trade wants {} W or more for an automatic welder alone. \
             (common practice)",
            figures::whole(*rated_w),
            figures::whole(*wanted_w)
        ),
        Advice::GeneratorShared => {
            "Give the automatic welder a generator to itself: screw guns and hand welders go \
             elsewhere. (common practice)"
                .to_owned()
        }
        Advice::CordDrop { welder, drop_pct, watts_pct } => format!(
            "Cord of {welder}: {drop_pct:.1} % of the voltage is lost on it and {} % of the watts \
             arrive. Shorter or heavier. (Ohm's law; 3 % is the NEC's own advice for a branch)",
            figures::whole(*watts_pct)
        ),
    }
}
