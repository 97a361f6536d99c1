//! Every rule that judges a minute: a quiet day in which one value crosses its threshold.

use fairseam::plan::{DayPlan, Note, Reason, Verdict};
use fairseam::units::{RainDepth, Temperature, TemperatureDifference};
use fairseam::weather::{Hour, HourSum};

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{
    DECEMBER, JUNE, at, checkpoint, clock, fahrenheit, forecast, inches, minutes, mph, plan, site,
    span, tests,
};

/// What is made of an hour.
type Change = fn(&mut Hour);

/// A plan of the June day with `change` made in the hour from 10:00 to 11:00 alone.
fn with_ten(change: impl Fn(&mut Hour)) -> DayPlan {
    let weather = forecast(JUNE, |hour, row| {
        if hour == 10 {
            change(row);
        }
    });
    plan(&site(&[]), JUNE, &weather)
}

#[test]
fn a_quiet_day_is_one_span_to_weld_in() {
    let plan = plan(&site(&[]), JUNE, &forecast(JUNE, |_, _| {}));
    assert_eq!(plan.spans.len(), 1);
    assert_eq!((plan.spans[0].start, plan.spans[0].end), (plan.shift.start, plan.shift.end));
    assert_eq!((plan.spans[0].verdict, plan.spans[0].reasons.len()), (Verdict::Weld, 0));
    assert_eq!(tests(&plan), ["start 07:00", "after-morning-break 09:45", "after-lunch 12:30"]);
    assert!(plan.advice.is_empty() && plan.notes.is_empty(), "{:?} {:?}", plan.advice, plan.notes);
    assert_eq!(plan.summary.dry, None);
}

/// One value of the hour from 10:00 and what it has to say at 10:00 sharp.
struct Crossing {
    rule: &'static str,
    set: fn(&mut Hour, f64),
    /// The last value that leaves the hour alone, the threshold, and a value beyond it.
    quiet: f64,
    threshold: f64,
    beyond: f64,
    /// Whether the threshold itself counts as reached.
    at_counts: bool,
    says: fn(&Reason) -> bool,
    verdict: Verdict,
}

/// Thresholds: the defaults of a US site as docs/site-file.md lists them.
const CROSSINGS: &[Crossing] = &[
    Crossing {
        rule: "rain_hold",
        set: |hour, depth| hour.rain = inches(depth),
        quiet: 0.0099,
        threshold: 0.01,
        beyond: 0.2,
        at_counts: true,
        says: |reason| matches!(reason, Reason::Rain { over_hours: 1, .. }),
        verdict: Verdict::Hold,
    },
    Crossing {
        rule: "snow_hold",
        set: |hour, depth| hour.snow = inches(depth),
        quiet: 0.099,
        threshold: 0.1,
        beyond: 1.0,
        at_counts: true,
        says: |reason| matches!(reason, Reason::Snow { over_hours: 1, .. }),
        verdict: Verdict::Hold,
    },
    Crossing {
        rule: "thunder_hold_pct",
        set: |hour, pct| hour.thunder_probability_pct = Some(pct),
        quiet: 29.9,
        threshold: 30.0,
        beyond: 90.0,
        at_counts: true,
        says: |reason| matches!(reason, Reason::Thunder),
        verdict: Verdict::Hold,
    },
    Crossing {
        rule: "wind_stop by a gust",
        set: |hour, speed| hour.gust = mph(speed),
        quiet: 39.9,
        threshold: 40.0,
        beyond: 70.0,
        at_counts: true,
        says: |reason| matches!(reason, Reason::WindStop { .. }),
        verdict: Verdict::Hold,
    },
    Crossing {
        rule: "wind_stop by the mean wind",
        set: |hour, speed| hour.wind = mph(speed),
        quiet: 39.9,
        threshold: 40.0,
        beyond: 50.0,
        at_counts: true,
        says: |reason| matches!(reason, Reason::WindStop { .. }),
        verdict: Verdict::Hold,
    },
    Crossing {
        rule: "gust_care",
        set: |hour, speed| hour.gust = mph(speed),
        quiet: 24.9,
        threshold: 25.0,
        beyond: 39.0,
        at_counts: true,
        says: |reason| matches!(reason, Reason::Gust { .. }),
        verdict: Verdict::Care,
    },
    Crossing {
        rule: "wind_shield",
        set: |hour, speed| hour.wind = mph(speed),
        quiet: 19.9,
        threshold: 20.0,
        beyond: 24.0,
        at_counts: true,
        says: |reason| matches!(reason, Reason::WindShield { .. }),
        verdict: Verdict::Care,
    },
    Crossing {
        rule: "cold_care",
        set: |hour, degrees| hour.air = fahrenheit(degrees),
        quiet: 40.1,
        threshold: 40.0,
        beyond: 39.9,
        at_counts: false,
        says: |reason| matches!(reason, Reason::Cold { .. }),
        verdict: Verdict::Care,
    },
];

#[test]
fn a_rule_speaks_from_its_threshold_on_and_not_before() {
    for crossing in CROSSINGS {
        let rule = crossing.rule;
        let cases = [
            (crossing.quiet, false),
            (crossing.threshold, crossing.at_counts),
            (crossing.beyond, true),
        ];
        for (value, speaks) in cases {
            let plan = with_ten(|hour| (crossing.set)(hour, value));
            let span = span(&plan, "10:00");
            let said = span.reasons.iter().any(crossing.says);
            assert_eq!(said, speaks, "{rule} = {value}: {span:?}");
            if speaks {
                assert_eq!(span.verdict, crossing.verdict, "{rule} = {value}");
            }
            // It says nothing of any other time.
            let elsewhere = [("09:00", "before"), ("12:05", "after")];
            for (clock, when) in elsewhere {
                let calm = crate::sheet_support::span(&plan, clock);
                assert!(!calm.reasons.iter().any(crossing.says), "{rule} speaks {when}");
            }
        }
    }
}

#[test]
fn a_reason_carries_the_limit_or_the_amount_that_led_to_it() {
    let reasons = |change: fn(&mut Hour)| span(&with_ten(change), "10:00").reasons.clone();
    let depth = RainDepth::from_inches;
    assert_eq!(
        reasons(|hour| hour.rain = inches(0.2)),
        [Reason::Rain { total: depth(0.2), over_hours: 1 }]
    );
    assert_eq!(
        reasons(|hour| hour.snow = inches(0.5)),
        [Reason::Snow { total: depth(0.5), over_hours: 1 }]
    );
    assert_eq!(
        reasons(|hour| hour.gust = mph(45.0)),
        [Reason::WindStop { from: mph(40.0).unwrap() }]
    );
    assert_eq!(reasons(|hour| hour.gust = mph(30.0)), [Reason::Gust { from: mph(25.0).unwrap() }]);
    assert_eq!(
        reasons(|hour| hour.wind = mph(22.0)),
        [Reason::WindShield { from: mph(20.0).unwrap() }]
    );
    assert_eq!(
        reasons(|hour| (hour.air, hour.dew_point) = (fahrenheit(35.0), fahrenheit(0.0))),
        [Reason::Cold { below: Temperature::from_fahrenheit(40.0) }]
    );
}

#[test]
fn an_unknown_value_holds_nothing() {
    let forgets: &[(&str, Change)] = &[
        ("rain", |hour| hour.rain = None),
        ("snow", |hour| hour.snow = None),
        ("thunder", |hour| (hour.thunder_named, hour.thunder_probability_pct) = (None, None)),
        ("gust", |hour| hour.gust = None),
        ("wind", |hour| hour.wind = None),
        ("dew point", |hour| hour.dew_point = None),
        ("cloud", |hour| hour.cloud_cover_pct = None),
        ("pressure", |hour| hour.surface_pressure_hpa = None),
    ];
    for (what, forget) in forgets {
        let weather = forecast(JUNE, |_, hour| forget(hour));
        let plan = plan(&site(&[]), JUNE, &weather);
        assert_eq!(plan.spans.len(), 1, "{what}: {:?}", plan.spans);
        assert_eq!(plan.spans[0].verdict, Verdict::Weld, "{what}");
        let unknown_film = plan.notes.contains(&Note::FilmUnknown);
        let of_film = ["rain", "wind", "dew point", "cloud"].contains(what);
        assert_eq!(unknown_film, of_film, "{what}: {:?}", plan.notes);
        assert_eq!(plan.notes.contains(&Note::RainUnknown), *what == "rain", "{:?}", plan.notes);
    }
}

#[test]
fn thunder_clears_the_roof_until_half_an_hour_after_its_hour() {
    let thunders: &[(&str, Change)] = &[
        ("named", |hour| hour.thunder_named = Some(true)),
        ("likely", |hour| hour.thunder_probability_pct = Some(30.0)),
    ];
    for (how, thunder) in thunders {
        let plan = with_ten(thunder);
        let hold = span(&plan, "10:30");
        // OSHA and NOAA, FS-3863: thirty minutes after the last thunder.
        let ends = (clock(&plan, hold.start), clock(&plan, hold.end));
        assert_eq!(ends, ("10:00".to_owned(), "11:30".to_owned()), "{how}");
        assert_eq!(hold.reasons, [Reason::Thunder], "{how}");
        assert_eq!(clock(&plan, checkpoint(&plan, "after-hold-1").time), "11:30", "{how}");
    }
    let weather = forecast(JUNE, |hour, row| row.thunder_named = Some(hour == 10));
    let at_once = plan(&site(&[("rules.thunder_clear_minutes", "0")]), JUNE, &weather);
    assert_eq!(clock(&at_once, span(&at_once, "10:30").end), "11:00");
    // Thunder of the hour before the shift still holds its first half hour.
    let weather = forecast(JUNE, |hour, row| row.thunder_named = Some(hour == 6));
    let early = plan(&site(&[]), JUNE, &weather);
    assert_eq!(clock(&early, span(&early, "07:00").end), "07:30");
}

#[test]
fn a_total_over_six_hours_holds_each_of_them() {
    let spread = |total: f64| {
        let weather = forecast(JUNE, move |hour, row| {
            if (8..14).contains(&hour) {
                row.rain = Some(HourSum::share_of(RainDepth::from_inches(total), 6));
            }
        });
        plan(&site(&[]), JUNE, &weather)
    };
    // 0.01 in is measurable over the six hours; a sixth of it in one hour would not be.
    let plan = spread(0.01);
    assert_eq!(minutes(&plan, |reason| matches!(reason, Reason::Rain { .. })), 360);
    let hold = span(&plan, "13:59");
    assert_eq!(clock(&plan, hold.start), "08:00");
    let total = RainDepth::from_inches(0.01);
    assert!(hold.reasons.contains(&Reason::Rain { total, over_hours: 6 }), "{hold:?}");
    let plan = spread(0.0099);
    assert_eq!(minutes(&plan, |reason| matches!(reason, Reason::Rain { .. })), 0);
}

#[test]
fn storm_before_gust_before_shield_and_each_alone() {
    let kinds = |gust: Option<f64>, wind: f64| {
        let plan = with_ten(|hour| (hour.gust, hour.wind) = (gust.and_then(mph), mph(wind)));
        let named = span(&plan, "10:00").reasons.iter().map(|reason| match reason {
            Reason::WindStop { .. } => "stop",
            Reason::Gust { .. } => "gust",
            Reason::WindShield { .. } => "shield",
            other => panic!("{other:?}"),
        });
        named.collect::<Vec<_>>()
    };
    assert_eq!(kinds(Some(45.0), 30.0), ["stop"]);
    assert_eq!(kinds(Some(30.0), 22.0), ["gust"]);
    assert_eq!(kinds(Some(22.0), 22.0), ["shield"]);
    // No gust in the reply is no calm: the mean wind is the least that the strongest gust can be.
    assert_eq!(kinds(None, 30.0), ["gust"]);
    assert_eq!(kinds(None, 41.0), ["stop"]);
    // And no gust is weaker than the mean wind, whatever the reply says.
    assert_eq!(kinds(Some(10.0), 41.0), ["stop"]);
    assert_eq!(kinds(Some(10.0), 12.0), [""; 0]);
}

#[test]
fn several_reasons_stand_side_by_side_the_holds_first() {
    let plan = with_ten(|hour| {
        hour.rain = inches(0.1);
        hour.thunder_named = Some(true);
        (hour.gust, hour.wind) = (mph(50.0), mph(30.0));
        hour.air = fahrenheit(38.0);
    });
    let span = span(&plan, "10:00");
    assert_eq!(span.verdict, Verdict::Hold);
    let [rain, thunder, stop, cold] = &span.reasons[..] else { panic!("{span:?}") };
    assert!(matches!(rain, Reason::Rain { .. }) && matches!(thunder, Reason::Thunder));
    assert!(matches!(stop, Reason::WindStop { .. }) && matches!(cold, Reason::Cold { .. }));
}

#[test]
fn heat_by_a_published_heat_index() {
    // NWS chart: 90 °F with 50 % feels like 95 °F, 96 °F with 65 % like 121 °F; whole degrees.
    let mut proof = Proof::of(
        "people/heat-rule",
        "Minutes of care for heat, with a limit 0.6 °F below and above what is felt",
        "the National Weather Service's heat index chart",
        "shifts",
        Allowed::Nothing,
    );
    for (air, humidity, felt) in [(90.0, 50.0, 95.0), (96.0, 65.0, 121.0)] {
        let hot = |limit: f64| {
            let weather = forecast(JUNE, |_, hour| {
                (hour.air, hour.dew_point) = (fahrenheit(air), None);
                hour.humidity_pct = Some(humidity);
            });
            let site = site(&[("rules.heat_care", &limit.to_string())]);
            minutes(&plan(&site, JUNE, &weather), |reason| matches!(reason, Reason::Heat { .. }))
        };
        proof.same(&hot(felt - 0.6), &510, || format!("{air} °F, {humidity} %"));
        proof.same(&hot(felt + 0.6), &0, || format!("{air} °F, {humidity} %"));
    }
    proof.done();
    // The index itself counts as reached.
    let weather = forecast(JUNE, |_, hour| {
        (hour.air, hour.humidity_pct, hour.dew_point) = (fahrenheit(95.0), Some(50.0), None);
    });
    let mut site = site(&[]);
    site.rules.heat_care = plan(&site, JUNE, &weather).course[0].heat_index.unwrap();
    let plan = plan(&site, JUNE, &weather);
    assert_eq!(minutes(&plan, |reason| matches!(reason, Reason::Heat { .. })), 510);
}

#[test]
fn dark_ends_and_begins_with_civil_twilight() {
    // pvlib 0.16.1's SPA: sun 6° below the horizon at 06:34:00 and 17:00:00 EST.
    let weather = forecast(DECEMBER, |_, _| {});
    let site = site(&[("shift.start", "\"06:00\""), ("shift.end", "\"18:00\"")]);
    let plan = plan(&site, DECEMBER, &weather);
    let dark: Vec<_> = plan.spans.iter().filter(|s| s.reasons.contains(&Reason::Dark)).collect();
    assert_eq!(dark.len(), 2, "{:?}", plan.spans);
    let mut proof = Proof::of(
        "sun/twilight",
        "Care for darkness by civil twilight",
        "pvlib 0.16.1, SPA",
        "times",
        Allowed::absolute(1.0, "min"),
    );
    for (found, expected) in [(dark[0].end, "06:34"), (dark[1].start, "17:00")] {
        let off = (found - at(DECEMBER, expected)).num_minutes();
        proof.near(off as f64, 0.0, || expected.to_owned());
    }
    proof.done();
    assert!(dark.iter().all(|span| span.verdict == Verdict::Care), "{dark:?}");
    assert_eq!((dark[0].start, dark[1].end), (plan.shift.start, plan.shift.end));
}

#[test]
fn near_dew_is_less_than_the_margin_and_not_the_margin_itself() {
    // An overcast, moist day, on which the sheet stays close to the dew point and above it.
    let weather = forecast(JUNE, |_, hour| {
        hour.cloud_cover_pct = Some(100.0);
        hour.dew_point = Some(Temperature::from_celsius(18.0));
    });
    let mut site = site(&[]);
    let margin = plan(&site, JUNE, &weather).course[0].dew_margin.unwrap();
    assert!(margin.kelvin() > 0.5, "{margin:?}");
    let near_at_seven = |site: &fairseam::site::Site| {
        let plan = plan(site, JUNE, &weather);
        assert_eq!(
            span(&plan, "07:00").verdict == Verdict::Care,
            !plan.spans[0].reasons.is_empty()
        );
        plan.spans[0].reasons.iter().any(|reason| matches!(reason, Reason::DewNear { .. }))
    };
    for (more, near) in [(-0.01, false), (0.0, false), (0.01, true)] {
        let step = TemperatureDifference::from_kelvin(more);
        site.rules.dew_margin = TemperatureDifference::from_kelvin(margin.kelvin() + step.kelvin());
        assert_eq!(near_at_seven(&site), near, "{margin:?} and {more} K");
    }
}
