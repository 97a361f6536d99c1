//! Laws of the sheet and its water that must hold in a plan whatever the weather.

use fairseam::plan::DayPlan;
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::HourSum;

use crate::sheet_support::{JUNE, forecast, plan, site};

const DARKER: [&str; 4] = ["\"white\"", "\"tan\"", "\"gray\"", "\"black\""];

/// A short shift: laws need no whole day.
fn short(color: &str) -> fairseam::site::Site {
    site(&[
        ("shift.start", "\"09:00\""),
        ("shift.end", "\"10:30\""),
        ("shift.breaks", "[]"),
        ("sheet.color", color),
    ])
}

#[test]
fn a_darker_sheet_is_never_the_cooler_one_in_the_sun() {
    for cloud in [0.0, 60.0, 100.0] {
        for wind in [0.0, 3.0, 12.0] {
            let weather = forecast(JUNE, |_, row| {
                row.cloud_cover_pct = Some(cloud);
                row.wind = Some(WindSpeed::from_meters_per_second(wind));
            });
            let plans = DARKER.map(|color| plan(&short(color), JUNE, &weather));
            for pair in plans.windows(2) {
                for (light, dark) in pair[0].course.iter().zip(&pair[1].course) {
                    let (light, dark) = (light.sheet.unwrap(), dark.sheet.unwrap());
                    let label = format!("cloud {cloud}, wind {wind}");
                    assert!(!dark.nominal.is_below(light.nominal), "{label}: {light:?} {dark:?}");
                    for range in [light, dark] {
                        assert!(!range.low.is_above(range.nominal), "{label}: {range:?}");
                        assert!(!range.high.is_below(range.nominal), "{label}: {range:?}");
                    }
                }
            }
        }
    }
}

/// Minutes of the shift until the roof is dry after a shower before it; the whole shift if never.
fn wet_minutes(plan: &DayPlan) -> i64 {
    match plan.summary.dry {
        Some(dry) => (dry.from - plan.shift.start).num_minutes(),
        None if plan.spans[0].reasons.is_empty() => 0,
        None => (plan.shift.end - plan.shift.start).num_minutes(),
    }
}

/// A shower from five to six, with this dew point and cloud all day.
fn after_a_shower(color: &str, dew_point_c: f64, cloud: f64) -> i64 {
    let weather = forecast(JUNE, |hour, row| {
        if hour == 5 {
            row.rain = Some(HourSum::of_one_hour(RainDepth::from_millimeters(2.0)));
        }
        row.dew_point = Some(Temperature::from_celsius(dew_point_c));
        row.cloud_cover_pct = Some(cloud);
    });
    wet_minutes(&plan(&site(&[("sheet.color", color)]), JUNE, &weather))
}

#[test]
fn more_humidity_never_dries_the_roof_sooner_and_a_darker_sheet_never_later() {
    for cloud in [20.0, 100.0] {
        let by_color = ["\"white\"", "\"black\""].map(|color| {
            let dew_points = [2.0, 8.0, 14.0, 18.0, 19.5];
            dew_points.map(|dew_point| after_a_shower(color, dew_point, cloud))
        });
        for wet in &by_color {
            assert!(wet.windows(2).all(|pair| pair[0] <= pair[1]), "cloud {cloud}: {wet:?}");
            assert!(wet.first() < wet.last(), "cloud {cloud}: humidity changes nothing: {wet:?}");
        }
        let [white, black] = by_color;
        assert!(
            black.iter().zip(white).all(|(black, white)| *black <= white),
            "{white:?} {black:?}"
        );
    }
}
