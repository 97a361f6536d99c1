//! From a wet roof to the first weldable minute, and from the last one to a sealed roof.

use fairseam::plan::{Advice, Cause, Reason, Verdict};
use fairseam::units::Temperature;

use crate::sheet_support::{DECEMBER, JUNE, at, clock, forecast, inches, mph, plan, site};

#[test]
fn a_wet_roof_opens_the_day_with_the_first_weldable_minute() {
    // A shower from five to six leaves what a smooth sheet holds.
    let weather = forecast(JUNE, |hour, row| {
        if hour == 5 {
            row.rain = inches(0.1);
        }
    });
    let plan = plan(&site(&[]), JUNE, &weather);
    let dry = plan.summary.dry.unwrap();
    assert!(dry.earliest < dry.from && dry.from < dry.latest.unwrap(), "{dry:?}");
    let first = &plan.spans[0];
    assert_eq!((first.start, first.end), (plan.shift.start, dry.from));
    assert_eq!(first.verdict, Verdict::Hold);
    let [Reason::WetSheet { depth, frost: false }] = first.reasons[..] else { panic!("{first:?}") };
    // The span tells the wettest of its minutes: less than the 0.3 mm held at six.
    assert!((0.02..0.3).contains(&depth.millimeters()), "{depth:?}");
    let opening = &plan.checkpoints[0];
    assert_eq!((&*opening.id, opening.time), ("after-hold-1", dry.from));
    let Cause::AfterHold { opens_the_day, held_by } = &opening.cause else { panic!("{opening:?}") };
    assert!(*opens_the_day && matches!(held_by[..], [Reason::WetSheet { .. }]), "{held_by:?}");
    assert_eq!(plan.summary.first_weldable, Some(dry.from));
    // What a wipe takes off is a rule: with a generous one the same sheet is dry at seven.
    let site = site(&[("rules.film_dry", "0.04")]);
    let wiped = crate::sheet_support::plan(&site, JUNE, &weather);
    assert_eq!((wiped.spans[0].verdict, wiped.summary.dry), (Verdict::Weld, None));
}

#[test]
fn rain_into_the_shift_still_tells_when_the_roof_is_dry() {
    let weather = forecast(JUNE, |hour, row| {
        if (4..8).contains(&hour) {
            row.rain = inches(0.1);
        }
    });
    let plan = plan(&site(&[]), JUNE, &weather);
    assert!(matches!(plan.spans[0].reasons[..], [Reason::Rain { .. }]), "{:?}", plan.spans[0]);
    assert!(matches!(plan.spans[1].reasons[..], [Reason::WetSheet { .. }]), "{:?}", plan.spans[1]);
    let dry = plan.summary.dry.unwrap();
    assert_eq!(dry.from, plan.spans[1].end);
    assert!(dry.earliest > at(JUNE, "8:00") && dry.earliest <= dry.from, "{dry:?}");
    assert!(dry.latest.unwrap() >= dry.from, "{dry:?}");
    // Where the water cannot be followed, the end of the rain is no dry roof.
    let unknown = forecast(JUNE, |hour, row| {
        if (4..8).contains(&hour) {
            row.rain = inches(0.1);
        }
        row.cloud_cover_pct = None;
    });
    assert_eq!(crate::sheet_support::plan(&site(&[]), JUNE, &unknown).summary.dry, None);
}

#[test]
fn sealed_in_time_before_the_rain_of_the_afternoon() {
    let seal = |hours: &[i64], minutes: &str| {
        let weather = forecast(JUNE, |hour, row| {
            if hours.contains(&hour) {
                row.rain = inches(0.1);
            }
        });
        let plan = plan(&site(&[("rules.seal_minutes", minutes)]), JUNE, &weather);
        plan.advice.iter().find_map(|advice| match advice {
            Advice::Seal { rain_from, sealed_by, after_shift } => {
                Some((clock(&plan, *rain_from), clock(&plan, *sealed_by), *after_shift))
            }
            _ => None,
        })
    };
    let told = |rain: &str, by: &str, after| Some((rain.to_owned(), by.to_owned(), after));
    assert_eq!(seal(&[14], "45"), told("14:00", "13:15", false));
    assert_eq!(seal(&[14], "0"), told("14:00", "14:00", false));
    // Nothing can be sealed before the shift begins.
    assert_eq!(seal(&[8], "120"), told("08:00", "07:00", false));
    // The first of two showers; and the next one where the shift begins in the first.
    assert_eq!(seal(&[10, 14], "45"), told("10:00", "09:15", false));
    assert_eq!(seal(&[7, 14], "45"), told("14:00", "13:15", false));
    assert_eq!(seal(&[6, 7, 8], "45"), None);
    // In the night after it: up to 16 h beyond the end, sealed before the crew leaves at 15:30.
    assert_eq!(seal(&[20], "45"), told("20:00", "15:30", true));
    assert_eq!(seal(&[31], "45"), told("07:00", "15:30", true));
    assert_eq!(seal(&[32], "45"), None);
}

#[test]
fn frost_is_told_from_water() {
    // A clear calm night at -3 °C in moist air, and a morning under cloud that stays below freezing.
    let weather = forecast(DECEMBER, |hour, row| {
        row.air = Some(Temperature::from_celsius(-3.0));
        row.dew_point = Some(Temperature::from_celsius(-4.0));
        row.wind = mph(2.0);
        row.cloud_cover_pct = Some(if hour < 7 { 0.0 } else { 100.0 });
    });
    let plan = plan(&site(&[]), DECEMBER, &weather);
    let frost = |reason: &Reason| matches!(reason, Reason::WetSheet { frost: true, .. });
    assert!(plan.spans[0].reasons.iter().any(frost), "{:?}", plan.spans[0]);
    assert!(plan.advice.contains(&Advice::Ice), "{:?}", plan.advice);
}
