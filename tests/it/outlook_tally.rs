//! What many days come to, against tables worked by hand.

use chrono::{Datelike, NaiveDate, NaiveTime};
use fairseam::season::{
    DayAhead, DayRow, DaysAhead, FinishQuestion, Hold, HoldMinutes, SeasonDay, SiteAhead, SiteHead,
    Spread, Tally, TestCauses, Word, Workday, worst_days, worst_first, years_behind,
};
use fairseam::site::{self, Site};
use fairseam::units::{Length, Temperature, UnitSystem};

use crate::proof::{Allowed, Proof};
use crate::support::example_site;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A day of 465 working minutes with this many tests for a change of air, and nothing held.
fn work(tests: u8) -> Workday {
    Workday {
        tests: TestCauses { ambient_change: tests, ..TestCauses::default() },
        working_minutes: 465,
        weldable_minutes: 465,
        held: HoldMinutes::default(),
        first_weldable: Some(0),
        weldable_until: Some(510),
        begins_wet: false,
        air_c: (10.0, 20.0),
        seam_m: 100.0,
        partly_known: false,
    }
}

/// The same with minutes lost from the start of the shift.
fn held(tests: u8, hold: Hold, minutes: u16) -> Workday {
    let mut work = work(tests);
    work.held.add(hold, minutes);
    work.weldable_minutes -= minutes;
    work.first_weldable = (minutes < 465).then_some(minutes);
    work.begins_wet = hold == Hold::WetSheet;
    work
}

fn day(at: &str, workday: Option<Workday>) -> SeasonDay {
    SeasonDay { date: date(at), workday }
}

fn site(rules: &[(&str, &str)]) -> Site {
    site::load(&example_site(rules), "site.toml").unwrap().site
}

#[test]
fn ten_days_counted_by_hand() {
    // Tests 1 2 2 3 3 3 3 4 4 6; an eleventh workday has no weather.
    let days = [
        day("2013-04-01", Some(held(1, Hold::Rain, 465))),
        day("2013-04-02", Some(work(2))),
        day("2013-04-03", Some(held(2, Hold::WetSheet, 30))),
        day("2013-04-04", Some(held(3, Hold::WetSheet, 60))),
        day("2013-04-05", Some(held(3, Hold::WetSheet, 90))),
        day("2013-04-08", Some(work(3))),
        day("2013-04-09", Some(work(3))),
        day("2013-04-10", Some(held(4, Hold::WindStop, 65))),
        day("2013-04-11", Some(held(4, Hold::Rain, 15))),
        day("2013-04-12", Some(work(6))),
        day("2013-04-15", None),
    ];
    let tally = Tally::of(&days);
    assert_eq!((tally.workdays, tally.covered), (11, 10));
    assert!(tally.has_gaps());
    // Nearest rank: the 1st, the 5th and the 9th of ten.
    let mut proof = Proof::of(
        "outlook/percentiles",
        "One day, the middle day and nine days in ten: tests, weldable minutes, delays by dew",
        "HyndmanFan1996, definition 1, by hand on ten days",
        "spreads",
        Allowed::Nothing,
    );
    let spread = |p10, p50, p90| Some(Spread { p10, p50, p90 });
    proof.same(&tally.tests, &Some(Spread { p10: 1, p50: 3, p90: 4 }), || "tests".to_owned());
    assert_eq!(tally.tests_in_all, 1 + 2 + 2 + 3 + 3 + 3 + 3 + 4 + 4 + 6);
    assert_eq!(tally.days_with, [0, 1, 2, 4, 3]);
    assert_eq!(tally.percent(4), Some(40.0));
    // Weldable minutes in order: 0 375 400 405 435 450 465 465 465 465.
    proof.same(&tally.weldable, &spread(0, 435, 465), || "weldable".to_owned());
    assert_eq!(tally.weldable_in_all, 375 + 400 + 405 + 435 + 450 + 4 * 465);
    assert_eq!(tally.working_in_all, 4650);
    // Snow, rain, thunder, wet sheet, storm.
    assert_eq!(tally.held_in_all, [0, 480, 0, 180, 65]);
    assert_eq!((tally.dew.days, tally.dew.all_day), (3, 0));
    proof.same(&tally.dew.delay, &spread(30, 60, 90), || "dew".to_owned());
    proof.done();
    assert_eq!(tally.first_weldable, Some((0, 90)));
    assert_eq!(tally.never_weldable, 1);
}

#[test]
fn a_day_without_weather_counts_for_nothing() {
    let tally = Tally::of(&[day("2013-04-15", None)]);
    assert_eq!((tally.workdays, tally.covered, tally.tests_in_all), (1, 0, 0));
    assert_eq!((tally.tests, tally.weldable, tally.percent(0)), (None, None, None));
}

#[test]
fn days_are_told_by_month_week_weekday_and_year() {
    let days = ["2012-12-31", "2013-01-01", "2013-01-07", "2013-12-30"];
    let days = days.iter().map(|at| day(at, Some(work(2)))).collect();
    let record = years_behind(&site(&[]), days, None);
    let keys = |group: &[(u32, Tally)]| -> Vec<(u32, u32)> {
        group.iter().map(|(key, tally)| (*key, tally.covered)).collect()
    };
    assert_eq!(keys(&record.months), [(1, 2), (12, 2)]);
    // ISO 8601: the week with the year's first Thursday is week 1, so that 2012-12-31 lies in week 1
    // of 2013 and 2013-12-30 in week 1 of 2014.
    let mut proof = Proof::of(
        "outlook/weeks",
        "Weeks over two new years",
        "ISO 8601, by hand",
        "weeks",
        Allowed::Nothing,
    );
    assert_eq!(record.weeks.len(), 2);
    for (got, expected) in keys(&record.weeks).iter().zip([(1, 3), (2, 1)]) {
        proof.same(got, &expected, || "week".to_owned());
    }
    proof.done();
    let weekdays: Vec<_> = record.weekdays.iter().map(|(day, t)| (*day, t.covered)).collect();
    assert_eq!(weekdays, [(chrono::Weekday::Mon, 3), (chrono::Weekday::Tue, 1)]);
    let years: Vec<_> = record.years.iter().map(|(year, t)| (*year, t.covered)).collect();
    assert_eq!(years, [(2012, 1), (2013, 3)]);
}

#[test]
fn a_month_costs_its_minutes_times_the_crew_times_the_hour() {
    let site = site(&[("rules.crew_size", "4"), ("rules.crew_cost_per_hour", "55.5")]);
    let days = vec![
        day("2012-04-02", Some(work(3))),
        day("2012-04-03", Some(work(2))),
        day("2013-04-01", Some(work(6))),
        day("2013-04-02", Some(work(4))),
        // A month with a gap would come out too cheap, and does not count.
        day("2014-04-01", Some(work(1))),
        day("2014-04-02", None),
        day("2014-05-01", None),
    ];
    let budget = years_behind(&site, days, None).budget;
    let (april, may) = (budget[0], budget[1]);
    assert_eq!((april.month, april.complete, april.with_gaps), (4, 2, 1));
    // 5 and 10 tests of 10 minutes: of two values the 1st, the 1st and the 2nd.
    assert_eq!(april.minutes, Some(Spread { p10: 50, p50: 50, p90: 100 }));
    // 90 min of 4 people are 6 h; at 55.50 an hour, 333.
    let mut proof = Proof::of(
        "outlook/budget",
        "Crew hours and cost of a month's testing",
        "worked by hand",
        "numbers",
        Allowed::Nothing,
    );
    proof.same(&april.crew_hours(90), &Some(6.0), || "hours".to_owned());
    proof.same(&april.cost(90), &Some(333.0), || "cost".to_owned());
    proof.done();
    assert_eq!((may.month, may.complete, may.minutes), (5, 0, None));
}

#[test]
fn a_crew_without_a_size_or_a_price_has_no_cost() {
    let days = || vec![day("2012-04-02", Some(work(3)))];
    let budget = years_behind(&site(&[]), days(), None).budget[0];
    assert_eq!((budget.crew_hours(60), budget.cost(60)), (None, None));
    let sized = site(&[("rules.crew_size", "3")]);
    let budget = years_behind(&sized, days(), None).budget[0];
    assert_eq!((budget.crew_hours(60), budget.cost(60)), (Some(3.0), None));
}

/// Every workday of these years with this much seam, save those that `gap` names.
fn years_of_seam(seam: &[(i32, f32)], gap: impl Fn(NaiveDate) -> bool) -> Vec<SeasonDay> {
    let mut days = Vec::new();
    for &(year, seam_m) in seam {
        let first = NaiveDate::from_ymd_opt(year, 1, 1).unwrap();
        let of_year = first.iter_days().take_while(|date| date.year() == year);
        let workdays = of_year.filter(|date| date.weekday().num_days_from_monday() < 5);
        days.extend(workdays.map(|date| SeasonDay {
            date,
            workday: (!gap(date)).then(|| Workday { seam_m, ..work(2) }),
        }));
    }
    days
}

fn asked(meters: f64, start: &str, finish: &str) -> Option<FinishQuestion> {
    let footage = Length::from_meters(meters);
    Some(FinishQuestion { footage, start: date(start), finish: date(finish) })
}

#[test]
fn the_odds_are_years_that_finish_out_of_years_that_can_tell() {
    // April 1 to 12: ten workdays in 2011 (Fri 1 to Tue 12 has eight), so by hand:
    //   2011: Apr 1, 4-8, 11, 12 = 8 days; 2012: 2-6, 9-12 = 9; 2013: 1-5, 8-12 = 10.
    let gap = |day: NaiveDate| day == date("2014-04-04");
    let seam = [(2011, 100.0), (2012, 125.0), (2013, 90.0), (2014, 100.0)];
    let record = years_behind(
        &site(&[]),
        years_of_seam(&seam, gap),
        asked(900.0, "2027-04-01", "2027-04-12"),
    );
    let odds = record.finish.unwrap();
    let told: Vec<_> =
        odds.years.iter().map(|year| (year.year, year.done_on, year.uncovered)).collect();
    let expected = [
        // 8 days of 100 m: 800 m, not done.
        (2011, None, 0),
        // The 8th day of 125 m makes 1000 m: April 11.
        (2012, Some(date("2012-04-11")), 0),
        // The 10th day of 90 m makes 900 m: April 12, the last that counts.
        (2013, Some(date("2013-04-12")), 0),
        // April 1-11 less the 4th is 8 days, 800 m, and the 4th might have done it: open.
        (2014, None, 1),
    ];
    assert_eq!(told.len(), expected.len());
    let mut proof = Proof::of(
        "outlook/odds",
        "In which years a job would have been done in time",
        "worked by hand with the calendar",
        "years",
        Allowed::Nothing,
    );
    for (got, expected) in told.iter().zip(&expected) {
        proof.same(got, expected, || "year".to_owned());
    }
    proof.done();
    assert_eq!((odds.decided(), odds.finished()), (3, 2));
    assert!((odds.percent().unwrap() - 66.667).abs() < 0.001);
    // Of three years the 2nd for the middle: ten, eleven days and never.
    assert_eq!(odds.days_to_finish(33), Some(10));
    assert_eq!(odds.days_to_finish(50), Some(11));
    assert_eq!(odds.days_to_finish(90), None);
}

#[test]
fn a_job_may_run_over_new_year_and_over_the_leap_day() {
    let seam = [(2011, 100.0), (2012, 100.0), (2013, 100.0)];
    let days = || years_of_seam(&seam, |_| false);
    let over = years_behind(&site(&[]), days(), asked(600.0, "2026-12-28", "2027-01-04"));
    let told: Vec<_> =
        over.finish.unwrap().years.iter().map(|y| (y.year, y.is_decided(), y.done_on)).collect();
    // 2010-12-28 to 31 lie before the record, 2014-01-01 and after behind it: both are open.
    // 2011: Wed 28, 29, 30, then Mon 2 and later: six days would need Jan 4: done on Jan 4.
    assert_eq!(told[0], (2010, false, None));
    assert_eq!(told[1], (2011, true, Some(date("2012-01-04"))));
    // 2012: Fri 28, Mon 31, Tue 1, Wed 2, Thu 3, Fri 4: six days.
    assert_eq!(told[2], (2012, true, Some(date("2013-01-04"))));
    assert_eq!(told[3], (2013, false, None));
    // February 29 in a year that has none is the 28th.
    let leap = years_behind(&site(&[]), days(), asked(100.0, "2028-02-29", "2028-02-29"));
    let told: Vec<_> = leap.finish.unwrap().years.iter().map(|y| (y.year, y.done_on)).collect();
    // 2011-02-28 was a Monday, 2012-02-29 a Wednesday, 2013-02-28 a Thursday.
    let expected = [date("2011-02-28"), date("2012-02-29"), date("2013-02-28")];
    assert_eq!(told, [2011, 2012, 2013].into_iter().zip(expected.map(Some)).collect::<Vec<_>>());
}

/// A roof by its name alone.
pub(crate) fn head(name: &str) -> SiteHead {
    SiteHead {
        name: name.to_owned(),
        file: format!("{name}.toml"),
        units: UnitSystem::Us,
        time_zone: chrono_tz::America::New_York,
        shift_start: NaiveTime::from_hms_opt(7, 0, 0).unwrap(),
        trial_minutes: 10,
    }
}

fn ahead(name: &str, days: Vec<(&str, Workday)>) -> SiteAhead {
    let head = head(name);
    let degrees = Temperature::from_celsius(10.0);
    let days = days.into_iter().map(|(at, work)| DayRow {
        date: date(at),
        ahead: Some(DayAhead {
            work,
            test_times: Vec::new(),
            likely: None,
            air: (degrees, degrees),
            sheet: None,
            first_weldable: None,
            dry: None,
            word: Word::Weld,
            times_hold: true,
        }),
    });
    SiteAhead { head, ahead: DaysAhead { weather: None, days: days.collect() } }
}

#[test]
fn the_worst_day_is_the_one_that_takes_the_most_minutes_of_work() {
    let mut sites = vec![
        // 3 tests of 10 min: 30.
        ahead("calm", vec![("2027-04-21", work(3)), ("2027-04-22", work(2))]),
        // 60 min of rain and 2 tests: 80; the same by 20 min of rain and 6 tests.
        ahead("rainy", vec![("2027-04-21", held(2, Hold::Rain, 60))]),
        ahead("changing", vec![("2027-04-23", held(6, Hold::Rain, 20)), ("2027-04-22", work(0))]),
        ahead("empty", Vec::new()),
    ];
    worst_first(&mut sites);
    let order: Vec<&str> = sites.iter().map(|site| site.head.name.as_str()).collect();
    assert_eq!(order, ["changing", "rainy", "calm", "empty"]);
    let worst: Vec<(&str, u32)> = worst_days(&sites, 3)
        .iter()
        .map(|day| (day.head.name.as_str(), day.cost_minutes))
        .collect();
    // Of equal ones the one with more tests.
    assert_eq!(worst, [("changing", 80), ("rainy", 80), ("calm", 30)]);
}
