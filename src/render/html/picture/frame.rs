//! Where things lie: the size of a drawing, and its two scales.

use chrono::{DateTime, Utc};

use super::axes::{Ticks, ticks};
use super::markers::{BADGE, BRACKET, Lanes, stand_by_lanes, test_lanes};
use super::numbers::{of_count, of_minutes};
use crate::plan::DayPlan;
use crate::units::Temperature;
use crate::words::tell;

/// Height of the strip of verdicts.
pub(super) const STRIP: f64 = 20.0;
/// Between the plot and the strip.
const GAP: f64 = 5.0;

/// The size of a drawing, in its own units: pixels at full size.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    /// Its class, and the start of its ids.
    pub(super) name: &'static str,
    /// The whole width.
    pub(super) width: f64,
    /// Of the plot alone.
    pub(super) plot_height: f64,
    /// Room for the temperatures on the left.
    pub(super) left: f64,
    /// Least room for the names of the curves on the right.
    pub(super) right: f64,
    /// Height of the letters.
    pub(super) letter: f64,
}

impl Frame {
    /// For a desk and for paper.
    pub(super) const WIDE: Self = Self {
        name: "wide",
        width: 760.0,
        plot_height: 200.0,
        left: 54.0,
        right: 46.0,
        letter: 13.0,
    };
    /// For a phone.
    pub(super) const NARROW: Self = Self {
        name: "narrow",
        width: 340.0,
        plot_height: 200.0,
        left: 44.0,
        right: 46.0,
        letter: 12.0,
    };

    /// About how wide a name in bold is, with room for the wide ones among its letters.
    fn name_width(&self, name: &str) -> f64 {
        let wide = |letter: char| if "mwMW".contains(letter) { 1.2 } else { 0.63 };
        self.letter * name.chars().map(wide).sum::<f64>()
    }

    /// About how wide `letters` of them are.
    pub(super) const fn text_width(&self, letters: usize) -> f64 {
        0.6 * self.letter * of_count(letters)
    }
}

/// One drawing: the plan, the frame, and how time and temperature lie in it.
pub(super) struct Drawing<'a> {
    /// What is drawn.
    pub(super) plan: &'a DayPlan,
    /// Its size.
    pub(super) frame: Frame,
    /// Temperatures that are named on the left, in the site's unit.
    pub(super) ticks: Ticks,
    /// In which row above the plot each test has its number.
    pub(super) test_lanes: Lanes,
    /// In which row above the plot each stand-by has its bracket.
    pub(super) stand_by_lanes: Lanes,
    /// Upper edge of the plot.
    pub(super) top: f64,
    /// The whole height.
    pub(super) height: f64,
}

impl<'a> Drawing<'a> {
    /// `None` when no temperature is known, or there is no time to show it over.
    pub(super) fn new(plan: &'a DayPlan, frame: Frame) -> Option<Self> {
        let (low, high) = range(plan)?;
        let ticks = ticks(low.in_units(plan.units), high.in_units(plan.units), plan.units);
        let names = [tell!(plan.language, "picture-air"), tell!(plan.language, "picture-sheet")];
        let widest = names.iter().map(|name| frame.name_width(name)).fold(0.0, f64::max);
        let right = frame.right.max(widest + 5.0);
        let mut drawing = Self {
            plan,
            frame: Frame { right, ..frame },
            ticks,
            test_lanes: Lanes::default(),
            stand_by_lanes: Lanes::default(),
            top: 0.0,
            height: 0.0,
        };
        drawing.test_lanes = test_lanes(&drawing);
        drawing.stand_by_lanes = stand_by_lanes(&drawing);
        drawing.top = 8.0
            + BADGE * of_count(drawing.test_lanes.count)
            + BRACKET * of_count(drawing.stand_by_lanes.count);
        // A line of clock times below the strip, and one for the date of a new day.
        drawing.height = drawing.strip_top() + STRIP + 2.6 * frame.letter;
        Some(drawing)
    }

    /// Where an instant lies; outside the shift, at its nearer end.
    pub(super) fn x(&self, at: DateTime<Utc>) -> f64 {
        let shift = &self.plan.shift;
        let whole = of_minutes((shift.end - shift.start).num_minutes().max(1));
        let share = (of_minutes((at - shift.start).num_minutes()) / whole).clamp(0.0, 1.0);
        self.left() + share * (self.right() - self.left())
    }

    /// Where a temperature lies.
    pub(super) fn y(&self, value: Temperature) -> f64 {
        self.y_of(value.in_units(self.plan.units))
    }

    /// Where a number of degrees in the site's unit lies.
    pub(super) fn y_of(&self, degrees: f64) -> f64 {
        let (low, high) = (self.ticks.low(), self.ticks.high());
        self.bottom() - (degrees - low) / (high - low) * self.frame.plot_height
    }

    /// Left edge of the plot.
    pub(super) const fn left(&self) -> f64 {
        self.frame.left
    }

    /// Right edge of the plot.
    pub(super) const fn right(&self) -> f64 {
        self.frame.width - self.frame.right
    }

    /// Lower edge of the plot.
    pub(super) const fn bottom(&self) -> f64 {
        self.top + self.frame.plot_height
    }

    /// Upper edge of the strip of verdicts.
    pub(super) const fn strip_top(&self) -> f64 {
        self.bottom() + GAP
    }
}

/// The coldest and the warmest that the drawing has to show.
fn range(plan: &DayPlan) -> Option<(Temperature, Temperature)> {
    let values = plan.course.iter().flat_map(|moment| {
        let sheet = moment.sheet;
        [moment.air, sheet.map(|sheet| sheet.low), sheet.map(|sheet| sheet.high)]
    });
    let known = values.flatten().filter(|value| value.celsius().is_finite());
    known.fold(None, |range: Option<(Temperature, Temperature)>, value| {
        Some(range.map_or((value, value), |(low, high)| (low.min(value), high.max(value))))
    })
}
