//! The plan that a day is held against, in words: where it comes from, and its hours.

use chrono_tz::Tz;

use crate::quality::{KeptHour, PlanAtHand, Standing};
use crate::render::figures;
use crate::units::UnitSystem;

/// Heads of the columns of [`hour_row`].
pub const HOUR_HEAD: [&str; 7] = ["Hour", "Air", "Humidity", "Wind", "Gusts", "Rain", "Verdict"];

/// Which plan it is: made when, and whether the crew had it.
pub fn standing(at_hand: &PlanAtHand, zone: Tz) -> String {
    let made = at_hand.plan.made_at.with_timezone(&zone).format("%Y-%m-%d %H:%M");
    match at_hand.standing {
        Standing::AtShiftStart => {
            format!("Plan: as it stood when the shift began, made {made}.")
        }
        Standing::MadeLater => format!(
            "Plan: made {made}, after the shift had begun; none was kept before. The crew may not \
             have had it."
        ),
        Standing::PlannedAgain => {
            "Plan: none was kept of this day; planned again for this report from the forecast at \
             hand. The crew may have had other checkpoints on its phones."
                .to_owned()
        }
    }
}

/// Which plan, its source, the range of the air, the credit.
pub fn weather(at_hand: &PlanAtHand, zone: Tz, units: UnitSystem) -> Vec<String> {
    let plan = &at_hand.plan;
    let weather = &plan.weather;
    let mut items = vec![standing(at_hand, zone)];
    if weather.stale {
        let age = figures::duration(plan.made_at - weather.fetched_at);
        items.push(format!(
            "Stale forecast, {age} old when the plan was made: the weather service could not be \
             asked."
        ));
    }
    let day_and_time = |at: chrono::DateTime<chrono::Utc>| {
        at.with_timezone(&zone).format("%b %-d %H:%M").to_string()
    };
    let issued =
        weather.issued_at.map_or_else(String::new, |at| format!(", issued {}", day_and_time(at)));
    items.push(format!(
        "Weather: {}{issued}, read {}",
        weather.source,
        day_and_time(weather.fetched_at)
    ));
    items.push(format!(
        "As forecast: air {} to {} over the shift.",
        figures::temperature(plan.air_range.0, units),
        figures::temperature(plan.air_range.1, units)
    ));
    items.push(weather.attribution.clone());
    items
}

/// One hour as forecast; `?` for what the forecast does not say.
pub fn hour_row(hour: &KeptHour, zone: Tz, units: UnitSystem) -> [String; 7] {
    let known = |figure: Option<String>| figure.unwrap_or_else(|| "?".to_owned());
    [
        figures::clock(hour.time, zone),
        known(hour.air.map(|air| figures::temperature(air, units))),
        known(hour.humidity_pct.map(|percent| format!("{} %", figures::whole(percent)))),
        known(hour.wind.map(|wind| figures::wind(wind, units))),
        known(hour.gust.map(|gust| figures::wind(gust, units))),
        known(hour.rain.map(|rain| figures::rain(rain, units))),
        hour.verdict.name().to_owned(),
    ]
}
