//! What of a published day is done, by the trials in the book.

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::published::{Point, Published};
use crate::plan::{Progress, ShiftSpan, TestMade, shift_date};
use crate::quality::{
    KeptCheckpoint, KeptPlan, KeptTrial, KeptWeather, PlanAtHand, ReportInput, Standing,
    WithdrawnTrial, day_report,
};
use crate::site::Site;
use crate::units::Temperature;

/// One site's day and its trials.
#[derive(Clone, Copy)]
pub(super) struct Day<'a> {
    pub(super) site: &'a Site,
    pub(super) time_zone: Tz,
    pub(super) date: NaiveDate,
    pub(super) shift: &'a ShiftSpan,
    /// Every trial of the book, in any order.
    pub(super) trials: &'a [KeptTrial],
    /// Every trial that was withdrawn, in any order.
    pub(super) withdrawn: &'a [WithdrawnTrial],
    pub(super) now: DateTime<Utc>,
}

impl Day<'_> {
    /// Conclusive trials of the day up to now, oldest first.
    pub(super) fn tests(&self) -> Vec<TestMade> {
        let of_day = |kept: &&KeptTrial| {
            kept.judged.is_conclusive()
                && kept.when() <= self.now
                && shift_date(self.site, self.time_zone, kept.when()) == self.date
        };
        let mut tests: Vec<TestMade> = self.trials.iter().filter(of_day).map(test_made).collect();
        tests.sort_by_key(|test| test.when);
        tests
    }

    /// A checkpoint whose test was withdrawn was not tested, unless another trial of that moment stands.
    pub(super) fn forget_withdrawn(&self, points: &mut [Point]) {
        let stands = |when| self.trials.iter().any(|kept| kept.when() == when);
        let withdrawn = |when| {
            self.withdrawn.iter().map(|withdrawn| &withdrawn.trial).any(|trial| {
                let before = trial.earlier.iter().any(|form| form.judged.trial.when == when);
                before || trial.when() == when
            })
        };
        for point in points {
            point.tested = point.tested.filter(|made| stands(made.when) || !withdrawn(made.when));
        }
    }

    /// Marks what was tested, by the rules of the daily report. What was tested stays so.
    ///
    /// A trial from which a checkpoint was counted may lie within the minutes in which it would
    /// count for that checkpoint; it is not the test for it.
    pub(super) fn mark_tested(&self, points: &mut [Point]) {
        let of_all = self.made(points, self.trials);
        let counted = points.iter().filter_map(|point| point.counts_after).max();
        let later: Vec<KeptTrial> = self
            .trials
            .iter()
            .filter(|kept| counted.is_none_or(|counted| kept.when() > counted))
            .cloned()
            .collect();
        let of_later = self.made(points, &later);
        for ((point, of_all), of_later) in points.iter_mut().zip(of_all).zip(of_later) {
            let counts = |test: &TestMade| point.counts_after.is_none_or(|after| test.when > after);
            let found = of_all.filter(counts).or(of_later.filter(counts));
            point.tested = point.tested.or(found);
        }
    }

    /// The test that was made for each checkpoint, if one was.
    fn made(&self, points: &[Point], trials: &[KeptTrial]) -> Vec<Option<TestMade>> {
        let plan = PlanAtHand { plan: self.as_kept(points), standing: Standing::AtShiftStart };
        let report = day_report(&ReportInput {
            site: self.site,
            time_zone: self.time_zone,
            date: self.date,
            now: self.now,
            plan: Some(&plan),
            trials,
            withdrawn: &[],
        });
        let of_point = |point: &Point| {
            let found = report.checkpoints.iter().find(|found| found.id == point.id)?;
            let places = found.welders.iter().flat_map(|welder| &welder.trials);
            let trials = places.filter_map(|place| report.trials.get(*place));
            let made = trials.filter(|kept| kept.judged.is_conclusive() && kept.when() <= self.now);
            made.max_by_key(|kept| kept.when()).filter(|_| found.status.is_made()).map(test_made)
        };
        points.iter().map(of_point).collect()
    }

    /// What is settled, and the tests that the rest is counted from.
    pub(super) fn progress(&self, published: &Published) -> Progress {
        let settled = published.points.iter().filter(|point| point.is_settled(self.now));
        Progress { settled: settled.map(Point::settled).collect(), tests: self.tests() }
    }

    fn as_kept(&self, points: &[Point]) -> KeptPlan {
        let checkpoints = points.iter().map(|point| KeptCheckpoint {
            id: point.id.clone(),
            time: point.time,
            cause: point.cause.name().to_owned(),
            because: point.cause.name().to_owned(),
            air: point.air,
            minutes: self.site.rules.trial_minutes,
            welders: point.settings.iter().map(|setting| setting.welder.clone()).collect(),
        });
        let unknown = Temperature::from_celsius(0.0);
        // Times and ids are all that the report's rules look at; the weather is not theirs.
        KeptPlan {
            made_at: self.shift.start,
            date: self.date,
            time_zone: self.time_zone,
            latitude_deg: self.site.latitude_deg,
            longitude_deg: self.site.longitude_deg,
            shift_start: self.shift.start,
            shift_end: self.shift.end,
            breaks: Vec::new(),
            weather: KeptWeather {
                source: String::new(),
                issued_at: None,
                fetched_at: self.now,
                stale: false,
                attribution: String::new(),
            },
            air_range: (unknown, unknown),
            air: Vec::new(),
            hours: Vec::new(),
            checkpoints: checkpoints.collect(),
        }
    }
}

fn test_made(kept: &KeptTrial) -> TestMade {
    TestMade { when: kept.when(), air: kept.judged.trial.ambient }
}
