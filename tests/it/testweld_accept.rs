//! The door of the book: what is refused, what is kept as proving nothing, and never in silence.

use chrono::TimeDelta;
use fairseam::site::Kind;
use fairseam::testweld::{HeatTrial, LONGEST_TEXT, MOST_HEATS, Refusal, Trial, accept};
use fairseam::units::{BondWidth, Temperature, Thickness, TravelSpeed};

use crate::testweld_crew::{at, automatic, fahrenheit, feet_per_minute, hand, strip_of, trial};

const NOW: &str = "2027-04-20T12:30:00Z";

fn changed(change: impl FnOnce(&mut Trial)) -> Trial {
    let mut trial = trial("2027-04-20T12:00:00Z", "700 ccc, 800 ggg, 900 ggg, 1000 bbb");
    change(&mut trial);
    trial
}

fn taken(trial: &Trial) -> Result<Vec<&'static str>, Refusal> {
    accept(trial, &[automatic(), hand()], at(NOW))
        .map(|doubts| doubts.iter().map(|doubt| doubt.name()).collect())
}

#[test]
fn a_sound_record_is_taken_without_doubts() {
    assert_eq!(taken(&changed(|_| {})), Ok(vec![]));
    assert_eq!(
        taken(&changed(|trial| trial.who = "Zoë \"O'B\"\n<b>🙂; DROP".to_owned())),
        Ok(vec![])
    );
}

type Change = fn(&mut Trial);

#[test]
fn what_cannot_be_true_or_understood_is_refused_in_one_sentence() {
    let cases: &[(Change, &str)] = &[
        (|trial| trial.ambient = Temperature::from_celsius(f64::NAN), "the air is not a number"),
        (
            |trial| trial.ambient = fahrenheit(900.0),
            "the air is 900 °F (482 °C), expected -130 to 140 °F (-90 to 60 °C)",
        ),
        (|trial| trial.sheet = Some(fahrenheit(500.0)), "the sheet is 500 °F (260 °C), expected"),
        (|trial| trial.thickness = Thickness::from_mils(6000.0), "the thickness is 6000 mil"),
        (|trial| trial.thickness = Thickness::from_mils(0.0), "the thickness is 0 mil"),
        (|trial| trial.speed = Some(feet_per_minute(-8.0)), "the speed is -8.0 ft/min"),
        (|trial| trial.speed = Some(feet_per_minute(f64::INFINITY)), "the speed is not a number"),
        (|trial| trial.heats[1].speed = Some(feet_per_minute(0.0)), "the speed of heat 2 is 0.0"),
        (
            |trial| trial.heats[2].heat = Temperature::from_celsius(f64::NEG_INFINITY),
            "heat 3 is not a number",
        ),
        (|trial| trial.heats[0].heat = fahrenheit(9000.0), "heat 1 is 9000 °F"),
        (
            |trial| trial.heats[1].strips[2].bond_width = BondWidth::from_inches(38.0),
            "the bond width of heat 2, strip 3 is 38.00 in (965 mm), expected 0 to 5.9 in",
        ),
        (
            |trial| trial.heats[0].strips[0].bond_width = BondWidth::from_inches(-1.0),
            "the bond width of heat 1, strip 1 is -1.00 in",
        ),
        (|trial| trial.heats.clear(), "the trial has no heat"),
        (|trial| trial.who = " \n".to_owned(), "the name of who made it is empty"),
        (|trial| trial.welder.clear(), "the welder is empty"),
        (|trial| trial.note = Some("x".repeat(LONGEST_TEXT + 1)), "the note has 2001 characters"),
        (
            |trial| trial.heats = vec![HeatTrial::new(fahrenheit(800.0), vec![]); MOST_HEATS + 1],
            "the trial has 101 entries",
        ),
        (
            |trial| trial.heats[0].strips = vec![strip_of('g'); 101],
            "heat 1 has 101 entries, expected at most 100",
        ),
        (|trial| trial.welder_kind = Kind::Hand, "a speed is given for a hand welder"),
        (|trial| trial.when += TimeDelta::days(1), "the trial is dated 23 h 30 min after now"),
    ];
    for (change, expected) in cases {
        let refusal = taken(&changed(change)).expect_err(expected).to_string();
        assert!(refusal.contains(expected), "{refusal} does not say: {expected}");
        assert!(!refusal.contains('\n') && refusal.len() < 200, "{refusal}");
    }
}

#[test]
fn a_clock_a_few_minutes_ahead_is_no_future() {
    assert_eq!(taken(&changed(|trial| trial.when = at("2027-04-20T12:35:00Z"))), Ok(vec![]));
    assert!(taken(&changed(|trial| trial.when = at("2027-04-20T12:35:01Z"))).is_err());
}

#[test]
fn what_happened_but_proves_nothing_is_kept_with_its_reason() {
    let cases: &[(Change, &[&str])] = &[
        (|trial| trial.welder = "rented".to_owned(), &["unknown-welder"]),
        (|trial| trial.speed = None, &["speed-missing"]),
        (|trial| trial.speed = Some(feet_per_minute(25.0)), &["speed-outside-machine"]),
        (|trial| trial.heats[1].speed = Some(feet_per_minute(9.0)), &["speed-varied"]),
        (|trial| trial.heats[1].weights = Some("half".to_owned()), &["weights-varied"]),
        (|trial| trial.heats[1].air_flow = Some("80 %".to_owned()), &["air-flow-varied"]),
        (
            |trial| {
                trial.heats[0].speed = Some(feet_per_minute(20.0));
                trial.heats[3].weights = Some("none".to_owned());
            },
            &["speed-varied", "speed-outside-machine", "weights-varied"],
        ),
        (|trial| (trial.welder_kind, trial.speed) = (Kind::Hand, None), &["other-kind"]),
    ];
    for (change, expected) in cases {
        assert_eq!(taken(&changed(change)).as_deref(), Ok(*expected));
    }
}

#[test]
fn the_same_thing_in_other_words_is_not_varied() {
    let same = changed(|trial| {
        trial.heats[0].weights = Some(" ALL ".to_owned());
        trial.heats[1].speed = Some(TravelSpeed::from_meters_per_minute(8.0 * 0.3048));
        for heat in &mut trial.heats {
            heat.air_flow = Some("90 %".to_owned());
        }
    });
    assert_eq!(taken(&same), Ok(vec![]));
}

#[test]
fn a_speed_given_at_every_heat_needs_none_for_the_trial() {
    let each = changed(|trial| {
        trial.speed = None;
        for heat in &mut trial.heats {
            heat.speed = Some(feet_per_minute(7.0));
        }
    });
    assert_eq!(taken(&each), Ok(vec![]));
    assert_eq!(each.speed_held(), Some(feet_per_minute(7.0)));
}
