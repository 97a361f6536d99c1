//! A hundred roofs around two stations.

use fairseam::site::{Site, load};

/// Latitude, longitude, elevation in feet and zone of the stations, in the order of the real years.
const STATIONS: [(f64, f64, f64, &str); 2] =
    [(40.6925, -74.1687, 18.0, "America/New_York"), (41.98, -87.92, 659.0, "America/Chicago")];
const COLORS: [&str; 4] = ["white", "tan", "gray", "black"];

/// The site of this number: near one of the stations, of one of four colors.
pub(crate) fn site(number: usize) -> Site {
    let (latitude, longitude, elevation, zone) = STATIONS[number % 2];
    let step = number as f64 / 100.0;
    let text = format!(
        r#"name = "Roof {number}"
latitude_deg = {:.4}
longitude_deg = {:.4}
time_zone = "{zone}"
units = "us"
elevation = {elevation}

[shift]
start = "07:00"
end = "15:30"
workdays = ["mon", "tue", "wed", "thu", "fri"]
breaks = [ {{ name = "morning break", start = "09:30", minutes = 15 }}, {{ name = "lunch", start = "12:00", minutes = 30 }} ]

[sheet]
polymer = "pvc"
thickness = 80
color = "{}"

[[welders]]
name = "automatic 1"
kind = "automatic"
heat_low = 700
heat_max = 1100
heat_step = 100
speed_min = 3
speed_max = 18
rated_watts = 5200
rated_volts = 230
"#,
        latitude + step - 0.5,
        longitude + 0.5 - step,
        COLORS[number / 2 % 4],
    );
    load(&text, "bench").unwrap_or_else(|error| unreachable!("{error}")).site
}
