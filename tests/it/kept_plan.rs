//! Plans kept in the book: read back as they were, never changed, the right one held against a day.

use chrono::{NaiveDate, TimeDelta};
use fairseam::plan::Checkpoint;
use fairseam::quality::{KeptPlan, PlanAtHand, Standing, plan_that_counts};
use fairseam::render::words;
use fairseam::store::book::{
    BookFault, BookStore, ChainBreak, Remark, SqliteBook, earlier_self, plans_that_count, verify,
};
use sqlx::{Connection, Executor};

use crate::book_store_sample::{assert_holds, filled, open, raw, run, site, utc};
use crate::record_crew::{plan_of, site as roof};

/// The plan of a day of 60 °F, made at `made_at`: tests at 07:00, 09:45 and 12:30.
pub(crate) fn kept(date: &str, made_at: &str) -> KeptPlan {
    let plan = plan_of(&roof(), date);
    let because = |point: &Checkpoint| words::because(point, &plan);
    KeptPlan::of(&plan, utc(made_at), &because)
}

fn day(date: &str) -> NaiveDate {
    date.parse().unwrap()
}

const DAY: &str = "2027-04-21";
/// The shift starts at 07:00 in New York: 11:00 UTC.
const EVENING: &str = "2027-04-20T22:00:00Z";
const AT_START: &str = "2027-04-21T11:00:00Z";
const DURING: &str = "2027-04-21T15:00:00Z";

async fn counting(book: &SqliteBook, key: &str) -> Vec<PlanAtHand> {
    plans_that_count(book, key, day("2027-04-01"), day("2027-04-30")).await.unwrap()
}

#[test]
fn a_plan_is_read_back_as_it_was_kept_and_one_that_says_the_same_is_kept_once() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        let (here, there) = (site("east bay"), site("west bay"));
        let first = kept(DAY, EVENING);
        assert!(book.keep_plan(&here, &first).await.unwrap());
        // Only the clock and the reading of the same forecast differ.
        let mut again = kept(DAY, AT_START);
        again.weather.fetched_at += TimeDelta::hours(3);
        again.weather.stale = true;
        assert!(!book.keep_plan(&here, &again).await.unwrap());
        let found = counting(&book, &here.key).await;
        assert_eq!(found, [PlanAtHand { plan: first.clone(), standing: Standing::AtShiftStart }]);
        // Another site, another day, another plan: each is new.
        assert!(book.keep_plan(&there, &first).await.unwrap());
        assert!(book.keep_plan(&here, &kept("2027-04-22", EVENING)).await.unwrap());
        let mut warmer = again.clone();
        warmer.hours[0].air = None;
        assert!(book.keep_plan(&here, &warmer).await.unwrap());
        // Back to what was said first: that is a change again.
        assert!(book.keep_plan(&here, &again).await.unwrap());
        assert_eq!(book.plan_page(0, 100).await.unwrap().len(), 5);
        assert_eq!(counting(&book, &there.key).await.len(), 1);
        assert_holds(&book, 0).await;
    });
}

#[test]
fn the_plan_that_counts_is_the_last_one_before_the_shift_began() {
    let plans = |times: &[&str]| -> Vec<KeptPlan> {
        let mut plans: Vec<KeptPlan> = times.iter().map(|time| kept(DAY, time)).collect();
        for (minutes, plan) in (1..).zip(&mut plans) {
            plan.checkpoints[0].minutes = minutes;
        }
        plans
    };
    for (times, place, standing) in [
        (&[EVENING][..], 1, Standing::AtShiftStart),
        (&[EVENING, AT_START], 2, Standing::AtShiftStart),
        (&[EVENING, DURING], 1, Standing::AtShiftStart),
        (&[DURING, "2027-04-21T16:00:00Z"], 1, Standing::MadeLater),
        // A clock that was set back: the order in which they were kept counts.
        (&[AT_START, EVENING], 2, Standing::AtShiftStart),
        (&[DURING, EVENING], 2, Standing::AtShiftStart),
    ] {
        let found = plan_that_counts(plans(times)).unwrap();
        assert_eq!((found.plan.checkpoints[0].minutes, found.standing), (place, standing));
    }
    assert_eq!(plan_that_counts(Vec::new()), None);
}

#[test]
fn air_between_the_hours_is_that_of_the_plan() {
    let site = fairseam::site::load(include_str!("../../config/demo/site.toml"), "site.toml");
    let site = site.unwrap().site;
    let forecast = include_str!("../../config/demo/forecast.json");
    let forecast =
        fairseam::weather::sources::open_meteo::parse_forecast(forecast.as_bytes(), utc(EVENING))
            .unwrap();
    let zone = site.time_zone.unwrap();
    let plan = fairseam::plan::plan_day(&fairseam::plan::PlanInput {
        site: &site,
        time_zone: zone,
        date: day(DAY),
        now: utc(EVENING),
        forecast: &forecast,
        earlier: &fairseam::testweld::NoRecords { carry_days: 7 },
    })
    .unwrap();
    let kept = KeptPlan::of(&plan, utc(EVENING), &|_| String::new());
    assert!(kept.air.len() < 12, "a few values carry the whole shift");
    for moment in &plan.course {
        let (found, expected) = (kept.air_at(moment.time).unwrap(), moment.air.unwrap());
        assert!((found.celsius() - expected.celsius()).abs() < 1e-9, "{}", moment.time);
    }
    assert_eq!(kept.air_at(plan.shift.start - TimeDelta::minutes(1)), None);
    assert_eq!(kept.air_at(plan.shift.end + TimeDelta::minutes(2)), None);
}

#[test]
fn a_kept_plan_cannot_be_changed_and_a_change_behind_our_back_is_noticed() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        for date in ["2027-04-20", DAY, "2027-04-22"] {
            assert!(book.keep_plan(&site("east bay"), &kept(date, EVENING)).await.unwrap());
        }
        book.close().await;
        let mut raw = raw(home.path()).await;
        for (change, refusal) in [
            ("UPDATE plan SET made_at = '' WHERE sequence = 2", "never changed"),
            ("DELETE FROM plan WHERE sequence = 3", "never removed"),
            (
                "INSERT OR REPLACE INTO plan SELECT * FROM plan WHERE sequence = 2",
                "follows the last",
            ),
        ] {
            let said = raw.execute(change).await.unwrap_err().to_string();
            assert!(said.contains(refusal), "{change}: {said}");
        }
        raw.execute("DROP TRIGGER plan_is_never_changed").await.unwrap();
        // A test that was missed falls due ten minutes later: it would be in time.
        raw.execute(
            "UPDATE plan SET payload = replace(payload, 'T13:45', 'T13:55') WHERE sequence = 2",
        )
        .await
        .unwrap();
        raw.close().await.unwrap();
        let book = open(home.path()).await;
        let verified = verify(&book).await.unwrap();
        let plan = fairseam::store::book::EntryId(2);
        assert_eq!(verified.fault, Some(ChainBreak::PlanAltered { plan }));
        assert_eq!(verified.remarks, [Remark::Unguarded]);
    });
}

#[test]
fn a_removed_plan_is_noticed_and_one_that_makes_no_sense_is_named() {
    for (change, expected) in [
        ("DELETE FROM plan WHERE sequence = 1", "plan 1 of the plans kept is missing"),
        (
            "UPDATE plan SET payload = '{\"format\":9}' WHERE sequence = 2",
            "plan 2 of the plans kept",
        ),
        ("UPDATE plan SET payload = '{' WHERE sequence = 2", "plan 2 of the plans kept"),
    ] {
        let home = tempfile::tempdir().unwrap();
        run(async {
            let book = open(home.path()).await;
            for date in ["2027-04-20", DAY] {
                book.keep_plan(&site("east bay"), &kept(date, EVENING)).await.unwrap();
            }
            book.close().await;
            let mut raw = raw(home.path()).await;
            raw.execute("DROP TRIGGER plan_is_never_changed").await.unwrap();
            raw.execute("DROP TRIGGER plan_is_never_removed").await.unwrap();
            raw.execute(change).await.unwrap();
            raw.close().await.unwrap();
            let book = open(home.path()).await;
            let said = verify(&book).await.unwrap().fault.unwrap().to_string();
            assert!(said.contains(expected), "{change}: {said}");
            let (first, last) = (day("2027-04-01"), day("2027-04-30"));
            let read = plans_that_count(&book, &site("east bay").key, first, last).await;
            let reads = change.starts_with("DELETE");
            assert_eq!(read.is_ok(), reads, "{change}");
            if let Err(fault) = read {
                assert!(matches!(fault, BookFault::Broken(_)), "{fault:?}");
                assert!(!fault.to_string().contains('\n'));
            }
        });
    }
}

/// A book of version 1 has entries and no table of plans.
async fn of_version_1(home: &std::path::Path) {
    filled(home, 8).await.close().await;
    let mut raw = raw(home).await;
    raw.execute("DROP TABLE plan").await.unwrap();
    raw.execute("DROP TABLE sent").await.unwrap();
    raw.execute("DELETE FROM _sqlx_migrations WHERE version > 1").await.unwrap();
    raw.close().await.unwrap();
}

#[test]
fn a_book_from_before_plans_were_kept_is_read_as_it_is_and_brought_up_to_date_to_write() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        of_version_1(home.path()).await;
        let book = SqliteBook::open_to_read(home.path()).await.unwrap().unwrap();
        assert!(assert_holds(&book, 8).await.remarks.is_empty());
        assert_eq!(counting(&book, &site("east bay").key).await, []);
        assert!(earlier_self(&book, &roof()).await.unwrap().is_none());
        book.close().await;
        let book = open(home.path()).await;
        assert!(book.keep_plan(&site("east bay"), &kept(DAY, EVENING)).await.unwrap());
        assert_eq!(counting(&book, &site("east bay").key).await.len(), 1);
        assert_holds(&book, 8).await;
    });
}

#[test]
fn several_who_plan_at_once_keep_one_plan() {
    let home = tempfile::tempdir().unwrap();
    run(async { open(home.path()).await.close().await });
    let keep = || {
        let plan = kept(DAY, EVENING);
        run(async { open(home.path()).await.keep_plan(&site("east bay"), &plan).await.unwrap() })
    };
    let new = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..4).map(|_| scope.spawn(keep)).collect();
        threads.into_iter().map(|thread| u32::from(thread.join().unwrap())).sum::<u32>()
    });
    assert_eq!(new, 1);
    run(async { assert_eq!(open(home.path()).await.plan_page(0, 10).await.unwrap().len(), 1) });
}

#[test]
fn a_number_that_is_none_is_refused() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        let mut plan = kept(DAY, EVENING);
        plan.checkpoints[0].air = fairseam::units::Temperature::from_celsius(f64::NAN);
        let fault = book.keep_plan(&site("east bay"), &plan).await.unwrap_err();
        assert!(matches!(fault, BookFault::Refused(_)), "{fault:?}");
        assert_eq!(book.plan_page(0, 10).await.unwrap(), []);
    });
}
