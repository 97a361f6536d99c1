//! The error model of a forecast, against published accuracy and numerical integration.

use fairseam::physics::forecast_error::{
    ErrorPaths, MEMBERS, chance_of_change, change_spread, correlation, difference_spread,
    error_paths, spread, spread_of_hit_rate,
};
use fairseam::units::TemperatureDifference;

use crate::number_table::rows;
use crate::proof::{Allowed, Proof};

const CHANCE: &str = include_str!("../fixtures/reference/change_chance.csv");
const DIFFERENCE: &str = include_str!("../fixtures/reference/bivariate_change.csv");

fn kelvin(step: f64) -> TemperatureDifference {
    TemperatureDifference::from_kelvin(step)
}

fn fahrenheit(step: f64) -> TemperatureDifference {
    TemperatureDifference::from_fahrenheit(step)
}

fn spread_f(lead_hours: f64) -> f64 {
    spread(lead_hours).unwrap().fahrenheit()
}

#[test]
fn published_hit_rates_give_their_spread() {
    // (share within 2 °C, σ °C if normal): UK Met Office, accuracy page; σ from 2/z, by hand with
    // z = 1.9686 and 1.4946 from a table of the normal distribution.
    let mut proof = Proof::of(
        "doubt/hit-rates",
        "Spread behind a share of forecasts within 2 °C",
        "MetOfficeAccuracy, with a table of the normal distribution",
        "shares",
        Allowed::absolute(0.001, "°C"),
    );
    for (rate, expected) in [(0.951, 1.016), (0.865, 1.338)] {
        let got = spread_of_hit_rate(kelvin(2.0), rate).unwrap();
        proof.near(got.kelvin(), expected, || format!("{rate}"));
        // And back: the share outside 2 °C.
        let outside = chance_of_change(kelvin(0.0), got, kelvin(2.0)).unwrap();
        assert!((outside - (1.0 - rate)).abs() < 1e-9, "{rate}");
    }
    proof.done();
    for rate in [0.0, 1.0, -0.5, f64::NAN] {
        assert_eq!(spread_of_hit_rate(kelvin(2.0), rate), None, "{rate}");
    }
    assert_eq!(spread_of_hit_rate(kelvin(0.0), 0.9), None);
}

#[test]
fn the_spread_lies_between_published_ones() {
    // (lead h, °F at least, °F at most, where read)
    const PUBLISHED: &[(f64, f64, f64, &str)] = &[
        (12.0, 1.8, 3.8, "Met Office same day σ 1.0 °C; NSSL, Oklahoma City, RMSE 3.80 °F"),
        (24.0, 2.4, 3.8, "Met Office first night σ 1.3 °C; NSSL, Oklahoma City, RMSE 3.80 °F"),
        // Mean absolute errors of 4 to 6 °F are σ of 5.0 to 7.5 °F if normal; from memory.
        (144.0, 5.0, 7.5, "station maxima on days 5 to 7"),
    ];
    let mut proof = Proof::of(
        "doubt/published-spreads",
        "Spread of a forecast 12, 24 and 144 h ahead",
        "MetOfficeAccuracy, NSSLverification; the last from memory",
        "leads",
        Allowed::Range("between two published"),
    );
    for &(lead, least, most, source) in PUBLISHED {
        proof.inside(spread_f(lead), least..=most, || source.to_owned());
    }
    proof.done();
    // The model's own figures by hand: √(2.5² + (0.035·lead)²).
    for (lead, expected) in [(0.0, 2.5), (24.0, 2.638), (72.0, 3.549), (168.0, 6.390)] {
        assert!((spread_f(lead) - expected).abs() < 0.001, "{lead} h");
    }
}

#[test]
fn the_spread_grows_and_ends() {
    for hour in 0..384 {
        assert!(spread_f(f64::from(hour) + 1.0) > spread_f(f64::from(hour)));
    }
    assert!((spread_f(-5.0) - 2.5).abs() < 1e-12);
    assert!(spread(384.0).is_some());
    for lead in [384.1, f64::INFINITY, f64::NAN] {
        assert_eq!(spread(lead), None, "{lead}");
        assert_eq!(change_spread(10.0, lead), None, "{lead}");
    }
}

#[test]
fn errors_of_neighboring_hours_are_alike() {
    assert!((correlation(0.0) - 1.0).abs() < 1e-15);
    // Expected over a few hours: 0.6 to 0.8, an assumption.
    for hours in [2.3, 3.0, 4.0, 5.0] {
        assert!((0.6..=0.8).contains(&correlation(hours)), "{hours} h: {}", correlation(hours));
    }
    assert!((correlation(-3.0) - correlation(3.0)).abs() < 1e-15);
    let mut last = 1.0;
    for minute in 1..3000 {
        let here = correlation(f64::from(minute) / 60.0);
        assert!(here < last && here > 0.0);
        last = here;
    }
}

#[test]
fn the_spread_of_a_change_starts_at_nothing() {
    assert!(change_spread(20.0, 20.0).unwrap().kelvin().abs() < 1e-9);
    assert!(change_spread(20.0, 20.0 + 1e-6).unwrap().kelvin() < 0.001);
    for minutes in 1..600 {
        let later = 20.0 + f64::from(minutes) / 60.0;
        let change = change_spread(20.0, later).unwrap();
        assert!(change > change_spread(20.0, later - 1.0 / 60.0).unwrap(), "{minutes} min");
        assert!((change.kelvin() - change_spread(later, 20.0).unwrap().kelvin()).abs() < 1e-12);
    }
    // σ√(2(1 − ρ)) with ρ 0.6 and 0.8 is 0.89 and 0.63 σ, by hand.
    for (rho, expected) in [(0.6, 0.894), (0.8, 0.632)] {
        let got = difference_spread(kelvin(1.0), kelvin(1.0), rho).kelvin();
        assert!((got - expected).abs() < 0.001, "{rho}: {got}");
    }
    let mut proof = Proof::of(
        "doubt/change-spread",
        "Spread of the difference of two correlated errors",
        "integration by scipy 1.17.1, tests/reference/people_power.py",
        "rows",
        Allowed::absolute(1e-9, "K"),
    );
    for [a, b, rho, expected] in rows::<4>(DIFFERENCE) {
        let got = difference_spread(kelvin(a), kelvin(b), rho).kelvin();
        proof.near(got, expected, || format!("{a} {b} {rho}"));
    }
    proof.done();
}

#[test]
fn chances_match_integration() {
    let mut proof = Proof::of(
        "doubt/chances",
        "Chance that a change reaches a limit",
        "integration by scipy 1.17.1, tests/reference/people_power.py",
        "rows",
        Allowed::absolute(1e-9, ""),
    );
    for [mean, sigma, limit, expected] in rows::<4>(CHANCE) {
        let got = chance_of_change(kelvin(mean), kelvin(sigma), kelvin(limit)).unwrap();
        proof.near(got, expected, || format!("{mean} {sigma} {limit}"));
    }
    proof.done();
    // A change forecast as 8 or 12 °F, σ 2.6 °F, to reach 10 °F: z = ∓0.769, 22 and 78 % in a
    // table of the normal distribution.
    let mut proof = Proof::of(
        "doubt/chances-by-table",
        "Chance that a forecast change of 8 or 12 °F reaches 10 °F",
        "a table of the normal distribution",
        "chances",
        Allowed::absolute(0.005, ""),
    );
    for (forecast, expected) in [(8.0, 0.22), (12.0, 0.78)] {
        let got = chance_of_change(fahrenheit(forecast), fahrenheit(2.6), fahrenheit(10.0));
        proof.near(got.unwrap(), expected, || format!("{forecast}"));
    }
    proof.done();
}

#[test]
fn chances_rise_with_the_forecast_change_and_stay_chances() {
    let chance = |mean: f64, sigma: f64, limit: f64| {
        chance_of_change(kelvin(mean), kelvin(sigma), kelvin(limit))
    };
    for tenths in 0..150 {
        let (here, more) = (f64::from(tenths) / 10.0, f64::from(tenths + 1) / 10.0);
        assert!(chance(more, 1.5, 5.5).unwrap() >= chance(here, 1.5, 5.5).unwrap());
        assert!(chance(here, 1.5, 5.5).unwrap() <= 1.0);
        let (up, down) = (chance(here, 1.5, 5.5).unwrap(), chance(-here, 1.5, 5.5).unwrap());
        assert!((up - down).abs() < 1e-12);
    }
    assert_eq!(chance(5.5, 0.0, 5.5), Some(1.0));
    assert_eq!(chance(-5.5, 0.0, 5.5), Some(1.0));
    assert_eq!(chance(5.4, 0.0, 5.5), Some(0.0));
    assert!((chance(1.0, 1.0, 0.0).unwrap() - 1.0).abs() < 1e-12);
    for (mean, sigma, limit) in
        [(f64::NAN, 1.0, 1.0), (1.0, -1.0, 1.0), (1.0, f64::NAN, 1.0), (1.0, 1.0, -1.0)]
    {
        assert_eq!(chance(mean, sigma, limit), None, "{mean} {sigma} {limit}");
    }
}

fn column(paths: &ErrorPaths, step: usize) -> Vec<f64> {
    (0..paths.members()).map(|member| paths.at_step(member, step).unwrap().kelvin()).collect()
}

fn mean(values: &[f64]) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred values")]
    let count = values.len() as f64;
    values.iter().sum::<f64>() / count
}

#[test]
fn the_courses_have_the_models_spread_and_correlation() {
    let paths = error_paths(12.0, 48).unwrap();
    assert_eq!((paths.members(), paths.hours()), (MEMBERS, 48));
    for step in 0..48_u32 {
        let here = column(&paths, step as usize);
        let sigma = spread(12.0 + f64::from(step)).unwrap().kelvin();
        assert!(mean(&here).abs() < 1e-9, "step {step}");
        let size = mean(&here.iter().map(|v| v * v).collect::<Vec<_>>()).sqrt();
        assert!((size / sigma - 1.0).abs() < 1e-9, "step {step}: {size}, not {sigma}");
    }
    for apart in [1_u32, 3, 6, 12] {
        let found: Vec<f64> = (0..48 - apart)
            .map(|step| {
                let (a, b) =
                    (column(&paths, step as usize), column(&paths, (step + apart) as usize));
                let products: Vec<f64> = a.iter().zip(&b).map(|(a, b)| a * b).collect();
                let squares = |v: &[f64]| mean(&v.iter().map(|v| v * v).collect::<Vec<_>>());
                mean(&products) / (squares(&a) * squares(&b)).sqrt()
            })
            .collect();
        let expected = correlation(f64::from(apart));
        // Over all pairs of hours the mean is close; a single pair of 200 members strays more.
        assert!((mean(&found) - expected).abs() < 0.03, "{apart} h: {}", mean(&found));
        assert!(found.iter().all(|rho| (rho - expected).abs() < 0.25), "{apart} h");
    }
}

#[test]
fn the_courses_give_the_chances_of_the_closed_form() {
    // The share of members whose change reaches a limit, against the formula for it.
    let paths = error_paths(16.0, 9).unwrap();
    let (from, to) = (column(&paths, 2), column(&paths, 7));
    let sigma = change_spread(18.0, 23.0).unwrap();
    // Three standard errors of 200 draws at 50 % are 0.11.
    let mut proof = Proof::of(
        "inner/error-courses",
        "Share of the 200 courses that reach a limit",
        "the formula for that chance",
        "shares",
        Allowed::absolute(0.11, ""),
    );
    for forecast in [0.0, 6.0, 8.0, 10.0, 12.0] {
        let reached = from.iter().zip(&to).filter(|(a, b)| {
            (fahrenheit(forecast).kelvin() + *b - *a).abs() >= fahrenheit(10.0).kelvin()
        });
        let share = f64::from(u32::try_from(reached.count()).unwrap()) / 200.0;
        let expected = chance_of_change(fahrenheit(forecast), sigma, fahrenheit(10.0)).unwrap();
        proof.near(share, expected, || format!("{forecast} °F"));
    }
    proof.done();
}

#[test]
fn the_courses_repeat_and_end() {
    assert_eq!(error_paths(10.0, 24), error_paths(10.0, 24));
    // A longer course begins as the shorter one does.
    let (short, long) = (error_paths(10.0, 5).unwrap(), error_paths(10.0, 50).unwrap());
    for step in 0..5 {
        assert_eq!(column(&short, step), column(&long, step));
    }
    assert_eq!(short.at_step(0, 5), None);
    assert_eq!(short.at_step(MEMBERS, 0), None);
    assert_eq!(error_paths(10.0, 0).unwrap().hours(), 0);
    assert_eq!(error_paths(0.0, 385), None);
    assert_eq!(error_paths(380.0, 10), None);
    assert_eq!(error_paths(f64::NAN, 1), None);
}
