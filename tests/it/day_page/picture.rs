//! Reads the picture back: times and temperatures by its own scales, as a reader's eye would.

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::plan::DayPlan;
use fairseam::units::Temperature;

use super::well_formed::{Element, elements};
use super::{DAYS, Day};

/// One drawing of a page, taken apart.
struct Picture {
    width: f64,
    height: f64,
    marks: Vec<Element>,
    /// Plot: left, right edge.
    sides: (f64, f64),
}

fn pictures(page: &str) -> Vec<Picture> {
    let all = elements(page);
    let starts: Vec<usize> = (0..all.len()).filter(|&i| all[i].value("role") == "img").collect();
    let take = |&start: &usize| {
        let depth = all[start].inside.len();
        let marks = all[start + 1..].iter().take_while(|element| element.inside.len() > depth);
        let marks: Vec<Element> = marks.cloned().collect();
        let frame: Vec<f64> =
            all[start].value("viewBox").split(' ').map(|number| number.parse().unwrap()).collect();
        let grid = marks.iter().find(|element| element.is("grid")).unwrap();
        let sides = (grid.number("x1"), grid.number("x2"));
        Picture { width: frame[2], height: frame[3], marks, sides }
    };
    starts.iter().map(take).collect()
}

impl Picture {
    fn of(&self, class: &str) -> Vec<&Element> {
        self.marks.iter().filter(|element| element.is(class)).collect()
    }

    /// Degrees at a height, by the names of the lowest and the highest line.
    fn degrees_at(&self, y: f64) -> f64 {
        let names = self.of("degrees");
        let degrees = |name: &Element| name.text.split(' ').next().unwrap().parse::<f64>().unwrap();
        let (low, high) = (names[0], names[names.len() - 1]);
        let share = (y - low.number("y")) / (high.number("y") - low.number("y"));
        degrees(low) + share * (degrees(high) - degrees(low))
    }

    /// The instant at a place, by the edges of the plot, which are the shift's.
    fn time_at(&self, plan: &DayPlan, x: f64) -> DateTime<Utc> {
        let share = (x - self.sides.0) / (self.sides.1 - self.sides.0);
        let minutes = (plan.shift.end - plan.shift.start).num_minutes() as f64;
        plan.shift.start + TimeDelta::seconds((share * minutes * 60.0).round() as i64)
    }

    fn points(&self, class: &str) -> Vec<(f64, f64)> {
        let paths =
            self.of(class).into_iter().map(|path| path.value("d").replace(['M', 'L'], "\n"));
        let text = paths.collect::<String>();
        let pairs = text.lines().filter_map(|pair| pair.trim_end_matches('Z').split_once(' '));
        pairs.map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap())).collect()
    }
}

/// A drawn unit is this many seconds at most: a tenth of one is the drawing's own rounding.
const NEAR_SECONDS: i64 = 120;

fn is_near(one: DateTime<Utc>, other: DateTime<Utc>) -> bool {
    (one - other).num_seconds().abs() <= NEAR_SECONDS
}

#[test]
fn each_page_has_one_drawing_for_wide_and_one_for_narrow_screens() {
    for Day { name, page, .. } in DAYS.iter() {
        let widths: Vec<f64> = pictures(page).iter().map(|picture| picture.width).collect();
        assert_eq!(widths.len(), 2, "{name}");
        // The narrow one fits a phone of 360 px within the page's margins of 12 px at full size.
        assert!(widths[0] > widths[1] && widths[1] >= 336.0, "{name}: {widths:?}");
    }
}

#[test]
fn nothing_is_drawn_outside_the_frame() {
    for Day { name, page, .. } in DAYS.iter() {
        for picture in pictures(page) {
            for mark in &picture.marks {
                for (keys, end) in [
                    (["x", "x1", "x2", "cx"], picture.width),
                    (["y", "y1", "y2", "cy"], picture.height),
                ] {
                    for key in keys.iter().filter(|key| mark.attributes.contains_key(**key)) {
                        let at = mark.number(key);
                        assert!((0.0..=end).contains(&at), "{name}: {key}={at} of {}", mark.name);
                    }
                }
            }
            for (x, y) in
                ["air-line", "sheet-line", "sheet-band"].iter().flat_map(|c| picture.points(c))
            {
                assert!((picture.sides.0..=picture.sides.1).contains(&x), "{name}: {x}");
                assert!((0.0..=picture.height).contains(&y), "{name}: {y}");
            }
        }
    }
}

#[test]
fn the_curves_read_back_as_the_plan_has_them() {
    for Day { name, plan, page, .. } in DAYS.iter() {
        let at = |time: DateTime<Utc>| {
            let minute = (time - plan.shift.start).num_seconds() as f64 / 60.0;
            &plan.course[(minute.round() as usize).min(plan.course.len() - 1)]
        };
        for picture in pictures(page) {
            // Within half a degree, or what two drawn units are worth on a coarse scale.
            let near = (picture.degrees_at(100.0) - picture.degrees_at(102.0)).abs().max(0.5);
            let check = |class: &str, value: &dyn Fn(DateTime<Utc>) -> Option<Temperature>| {
                let points = picture.points(class);
                for &(x, y) in &points {
                    let expected = value(picture.time_at(plan, x)).unwrap().in_units(plan.units);
                    let read = picture.degrees_at(y);
                    assert!(
                        (read - expected).abs() <= near,
                        "{name}: {class} {read} for {expected}"
                    );
                }
                points.len()
            };
            assert!(check("air-line", &|time| at(time).air) > 10, "{name}");
            let known = plan.course.iter().any(|moment| moment.sheet.is_some());
            let drawn = check("sheet-line", &|time| at(time).sheet.map(|sheet| sheet.nominal));
            assert_eq!(drawn > 10, known, "{name}");
        }
    }
}

#[test]
fn tests_stand_bys_spans_and_breaks_stand_where_they_belong() {
    for Day { name, plan, page, .. } in DAYS.iter() {
        for picture in pictures(page) {
            let same = |drawn: Vec<f64>, times: Vec<DateTime<Utc>>| {
                assert_eq!(drawn.len(), times.len(), "{name}");
                for (x, time) in drawn.into_iter().zip(times) {
                    let read = picture.time_at(plan, x);
                    assert!(is_near(read, time), "{name}: {read} for {time}");
                }
            };
            let lines = |class| picture.of(class).iter().map(|line| line.number("x1")).collect();
            same(lines("test-line"), plan.checkpoints.iter().map(|point| point.time).collect());
            same(lines("stand-by-line"), plan.stand_by.iter().map(|test| test.about).collect());
            let ends = |class| {
                let bars = picture.of(class).into_iter();
                bars.flat_map(|bar| [bar.number("x"), bar.number("x") + bar.number("width")])
                    .collect()
            };
            same(ends("bar"), plan.spans.iter().flat_map(|span| [span.start, span.end]).collect());
            let breaks = plan.shift.breaks.iter().flat_map(|stop| [stop.start, stop.end]);
            same(ends("stop-bar"), breaks.collect());
            for (bar, span) in picture.of("bar").iter().zip(&plan.spans) {
                assert!(bar.is(span.verdict.name()), "{name}");
            }
        }
    }
}

#[test]
fn the_clock_below_is_the_sites_and_names_a_new_day() {
    for Day { name, plan, page, .. } in DAYS.iter() {
        for picture in pictures(page) {
            let clocks: Vec<&Element> =
                picture.of("clock").into_iter().filter(|label| !label.is("day")).collect();
            assert!(clocks.len() >= 3, "{name}: {}", clocks.len());
            for label in clocks {
                let read = picture.time_at(plan, label.number("x"));
                let near = (-NEAR_SECONDS..=NEAR_SECONDS).step_by(60).map(|seconds| {
                    let near = read + TimeDelta::seconds(seconds);
                    near.with_timezone(&plan.time_zone).format("%H:%M").to_string()
                });
                let near: Vec<String> = near.collect();
                // An hour that comes twice names its zone as well.
                let hour = label.text.split(' ').next().unwrap().to_owned();
                assert!(near.contains(&hour), "{name}: {} at {near:?}", label.text);
            }
            let days: Vec<&str> = picture.of("day").iter().map(|day| day.text.as_str()).collect();
            let expected: &[&str] = match *name {
                "over midnight" => &["Apr 22"],
                "clocks go back" => &["Nov 7"],
                _ => &[],
            };
            assert_eq!(days, expected, "{name}");
        }
    }
}

#[test]
fn the_picture_says_in_words_what_it_shows() {
    for Day { name, plan, page, .. } in DAYS.iter() {
        for picture in pictures(page) {
            let said = &picture.marks.iter().find(|mark| mark.name == "desc").unwrap().text;
            let clock =
                |at: DateTime<Utc>| at.with_timezone(&plan.time_zone).format("%H:%M").to_string();
            for span in &plan.spans {
                let span =
                    format!("{}-{} {}", clock(span.start), clock(span.end), span.verdict.name());
                assert!(said.contains(&span), "{name}: {span}");
            }
            for (point, number) in plan.checkpoints.iter().zip(1..) {
                assert!(said.contains(&format!("{number}: {},", clock(point.time))), "{name}");
            }
        }
    }
}
