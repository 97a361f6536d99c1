//! The tests: numbered lines for those in the plan, lettered dotted ones for those that may fall due.

use chrono::{DateTime, Utc};

use super::frame::Drawing;
use super::numbers::{of_count, px};
use crate::render::html::markup::{Markup, element, element_of, empty};

/// Height of a row of numbers.
pub(super) const BADGE: f64 = 21.0;
/// Height of a row of letters, each with its bracket under it.
pub(super) const BRACKET: f64 = 33.0;
/// Half of a number's disc.
const RADIUS: f64 = 9.0;
/// More rows would leave no room for the plot; what is left over shares the last one.
const MOST_LANES: usize = 4;

/// Rows in which marks stand so that none covers its neighbor.
#[derive(Default)]
pub(super) struct Lanes {
    lane_of: Vec<usize>,
    /// How many there are.
    pub(super) count: usize,
}

impl Lanes {
    /// Each mark, from its left to its right end, in the first row where it is free.
    fn place(marks: impl Iterator<Item = (f64, f64)>) -> Self {
        let mut free_from: Vec<f64> = Vec::new();
        let lane_of = marks.map(|(from, to)| {
            let free = free_from.iter().position(|free| *free <= from);
            let lane = free.unwrap_or(free_from.len()).min(MOST_LANES - 1);
            if lane == free_from.len() {
                free_from.push(to);
            } else {
                free_from[lane] = to;
            }
            lane
        });
        let lane_of: Vec<usize> = lane_of.collect();
        Self { lane_of, count: free_from.len() }
    }

    /// Middle of the disc in its row, from the top of the first.
    fn middle(&self, index: usize, row: f64) -> f64 {
        let lane = self.lane_of.get(index).copied().unwrap_or(0);
        row * of_count(lane) + BADGE / 2.0
    }
}

/// The letter of a stand-by, in the picture and in the list.
pub(in crate::render::html) fn letter(index: usize) -> String {
    let letter = u8::try_from(index).ok().filter(|index| *index < 26).map(|index| b'A' + index);
    letter.map_or_else(|| (index + 1).to_string(), |letter| char::from(letter).to_string())
}

/// Rows of the tests' numbers.
pub(super) fn test_lanes(drawing: &Drawing<'_>) -> Lanes {
    let points = drawing.plan.checkpoints.iter().map(|point| drawing.x(point.time));
    Lanes::place(points.map(|x| (x - RADIUS - 1.0, x + RADIUS + 1.0)))
}

/// Rows of the stand-bys' brackets.
pub(super) fn stand_by_lanes(drawing: &Drawing<'_>) -> Lanes {
    let brackets = drawing.plan.stand_by.iter().map(|test| {
        let about = drawing.x(test.about);
        let from = drawing.x(test.likelihood.earliest).min(about - RADIUS);
        (from - 2.0, drawing.x(test.likelihood.latest).max(about + RADIUS) + 2.0)
    });
    Lanes::place(brackets)
}

/// A line with its number for each test of the plan.
pub(super) fn tests(drawing: &Drawing<'_>) -> Markup {
    let marks = drawing.plan.checkpoints.iter().enumerate().map(|(index, point)| {
        let y = drawing.test_lanes.middle(index, BADGE);
        mark(drawing, point.time, y, "test", &(index + 1).to_string())
    });
    element("g", &[], marks.collect())
}

/// A dotted line with its letter for each test that may fall due, and a bracket from the earliest to
/// the latest time.
pub(super) fn stand_by(drawing: &Drawing<'_>) -> Markup {
    let below = BADGE * of_count(drawing.test_lanes.count);
    let marks = drawing.plan.stand_by.iter().enumerate().map(|(index, test)| {
        let y = below + drawing.stand_by_lanes.middle(index, BRACKET);
        let (from, to) = (drawing.x(test.likelihood.earliest), drawing.x(test.likelihood.latest));
        let under = y + RADIUS + 6.0;
        let (up, down) = (px(under - 4.0), px(under + 4.0));
        let (from, to) = (px(from), px(to));
        let bracket = format!("M{from} {up}V{down}M{from} {}H{to}M{to} {up}V{down}", px(under));
        let bracket = empty("path", &[("class", "bracket"), ("d", &bracket)]);
        let mark = mark(drawing, test.about, y, "stand-by", &letter(index));
        Markup::from([bracket, mark])
    });
    element("g", &[], marks.collect())
}

/// A line from the sign at height `y` down to the foot of the plot.
fn mark(drawing: &Drawing<'_>, at: DateTime<Utc>, y: f64, class: &str, name: &str) -> Markup {
    let middle = drawing.x(at);
    let x = px(middle);
    let (from, to) = (px(y + RADIUS), px(drawing.bottom()));
    let line_class = format!("{class}-line");
    let line = [("x1", x.as_str()), ("x2", &x), ("y1", &from), ("y2", &to), ("class", &line_class)];
    let name_class = format!("{class}-name");
    let place = [("x", x.as_str()), ("y", &px(y)), ("dy", ".36em"), ("class", &name_class)];
    let name = element_of("text", &place, name);
    Markup::from([empty("line", &line), sign(class, middle, y), name])
}

/// A disc for what is in the plan, a square for what may be.
fn sign(class: &str, x: f64, y: f64) -> Markup {
    let sign_class = format!("{class}-sign");
    if class == "test" {
        let disc = [("cx", &*px(x)), ("cy", &px(y)), ("r", &px(RADIUS)), ("class", &sign_class)];
        return empty("circle", &disc);
    }
    let side = px(2.0 * RADIUS);
    let square = [
        ("x", &*px(x - RADIUS)),
        ("y", &px(y - RADIUS)),
        ("width", &side),
        ("height", &side),
        ("rx", "2"),
        ("class", &sign_class),
    ];
    empty("rect", &square)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_side_by_side_get_rows_of_their_own() {
        let lanes = Lanes::place([(0.0, 20.0), (10.0, 30.0), (21.0, 41.0)].into_iter());
        assert_eq!((lanes.lane_of, lanes.count), (vec![0, 1, 0], 2));
        let crowd = Lanes::place(std::iter::repeat_n((0.0, 20.0), 9));
        assert_eq!(crowd.count, MOST_LANES);
    }

    #[test]
    fn letters_end_in_numbers() {
        assert_eq!([letter(0), letter(25), letter(26)], ["A", "Z", "27"]);
    }
}
