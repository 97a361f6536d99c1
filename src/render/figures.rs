//! Numbers as the crew reads them.

use chrono::{DateTime, LocalResult, TimeDelta, TimeZone, Utc};
use chrono_tz::Tz;

use crate::units::{
    Length, RainDepth, Temperature, TemperatureDifference, TravelSpeed, UnitSystem, WindSpeed,
};

/// `63 °F`.
pub fn temperature(value: Temperature, units: UnitSystem) -> String {
    format!("{} {}", whole(value.in_units(units)), units.temperature())
}

/// `10.1 °F`, without its sign.
pub fn difference(value: TemperatureDifference, units: UnitSystem) -> String {
    format!("{:.1} {}", value.abs().in_units(units), units.temperature())
}

/// `55 °F`, without its sign, to the nearest 5: more would promise too much.
pub fn difference_whole(value: TemperatureDifference, units: UnitSystem) -> String {
    let fives = round_to(value.abs().in_units(units), 0.2);
    format!("{} {}", whole(fives), units.temperature())
}

/// `1240 ft`, to the nearest 10.
pub fn length(value: Length, units: UnitSystem) -> String {
    format!("{} {}", whole(round_to(value.in_units(units), 0.1)), units.length())
}

/// `8 ft/min`, `2.4 m/min`.
pub fn travel_speed(value: TravelSpeed, units: UnitSystem) -> String {
    format!("{} {}", travel_speed_figure(value, units), units.travel_speed())
}

/// `8`, `2.4`: feet to the whole where they are whole, meters to 0.1.
pub fn travel_speed_figure(value: TravelSpeed, units: UnitSystem) -> String {
    let shown = round_to(value.in_units(units), 10.0);
    match units {
        UnitSystem::Us if shown.fract() == 0.0 => format!("{shown:.0}"),
        _ => format!("{shown:.1}"),
    }
}

/// `27 mph`, `12 m/s`.
pub fn wind(value: WindSpeed, units: UnitSystem) -> String {
    format!("{} {}", whole(value.in_units(units)), units.wind())
}

/// `0.15 in`, `3.8 mm`.
pub fn rain(value: RainDepth, units: UnitSystem) -> String {
    match units {
        UnitSystem::Us => format!("{:.2} in", value.inches()),
        UnitSystem::Metric => format!("{:.1} mm", value.millimeters()),
    }
}

/// `0.004 in`, `0.10 mm`: a film is thin.
pub fn film(value: RainDepth, units: UnitSystem) -> String {
    match units {
        UnitSystem::Us => format!("{:.3} in", value.inches()),
        UnitSystem::Metric => format!("{:.2} mm", value.millimeters()),
    }
}

/// `700, 800, 900, 1000, 1100 °F`.
pub fn heats(values: &[Temperature], units: UnitSystem) -> String {
    let shown: Vec<String> = values.iter().map(|heat| whole(heat.in_units(units))).collect();
    format!("{} {}", shown.join(", "), units.temperature())
}

/// `08:41` on the site's clock; `01:30 EST` in the hour that a clock change doubles.
pub fn clock(at: DateTime<Utc>, zone: Tz) -> String {
    let local = at.with_timezone(&zone);
    match zone.from_local_datetime(&local.naive_local()) {
        LocalResult::Ambiguous(..) => local.format("%H:%M %Z").to_string(),
        _ => local.format("%H:%M").to_string(),
    }
}

/// `08:41`, in a row of hours whose order tells the doubled one.
pub fn clock_in_a_row(at: DateTime<Utc>, zone: Tz) -> String {
    at.with_timezone(&zone).format("%H:%M").to_string()
}

/// `9 h 40 min`, `25 min`, `3 d 4 h`.
pub fn duration(value: TimeDelta) -> String {
    let minutes = value.num_minutes();
    let (days, hours, minutes) = (minutes / 1440, minutes / 60 % 24, minutes % 60);
    match (days, hours) {
        (0, 0) => format!("{minutes} min"),
        (0, _) => format!("{hours} h {minutes:02} min"),
        _ => format!("{days} d {hours} h"),
    }
}

/// `value` to the nearest `1 / parts`; never minus zero.
pub fn round_to(value: f64, parts: f64) -> f64 {
    (value * parts).round() / parts + 0.0
}

/// To the nearest whole, without `-0`.
pub fn whole(value: f64) -> String {
    format!("{:.0}", round_to(value, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_doubled_hour_says_which_of_the_two_it_is() {
        let zone = chrono_tz::America::New_York;
        let shown = |text: &str| clock(text.parse().unwrap(), zone);
        // RFC5545, section 3.3.5: 01:30 of that kind occurs twice, first with the summer offset.
        assert_eq!(shown("2013-11-03T05:30:00Z"), "01:30 EDT");
        assert_eq!(shown("2013-11-03T06:30:00Z"), "01:30 EST");
        assert_eq!(shown("2013-11-03T07:00:00Z"), "02:00");
        assert_eq!(shown("2013-03-10T07:30:00Z"), "03:30");
    }

    #[test]
    fn figures_read_as_on_the_machine() {
        let speed = TravelSpeed::from_feet_per_minute(10.0);
        assert_eq!(travel_speed(speed, UnitSystem::Us), "10 ft/min");
        assert_eq!(travel_speed(speed, UnitSystem::Metric), "3.0 m/min");
        assert_eq!(temperature(Temperature::from_celsius(-0.2), UnitSystem::Metric), "0 °C");
        assert_eq!(duration(TimeDelta::minutes(580)), "9 h 40 min");
        assert_eq!(duration(TimeDelta::minutes(4560)), "3 d 4 h");
    }
}
