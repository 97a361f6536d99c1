//! What one working day of one roof comes to, small enough that thirty years of a hundred roofs fit
//! in memory.

use chrono::NaiveDate;

use crate::plan::{CauseKind, Rule};

/// One workday of one roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeasonDay {
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// What it comes to; `None` where the record lacks air temperatures that the shift needs. Such
    /// a day counts as uncovered and is never filled in.
    pub workday: Option<Workday>,
}

/// What a day with a known course comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Workday {
    /// Mandatory test welds by what asks for them.
    pub tests: TestCauses,
    /// Working minutes of the shift, breaks left out.
    pub working_minutes: u16,
    /// Working minutes that nothing holds.
    pub weldable_minutes: u16,
    /// Working minutes lost, by what holds them. Where several hold at once, the minute counts for
    /// the first of [`Hold::ALL`], so that the parts add up to what is lost.
    pub held: HoldMinutes,
    /// First minute of the shift that can be welded; `None` where there is none.
    pub first_weldable: Option<u16>,
    /// The minute after the last that can be welded.
    pub weldable_until: Option<u16>,
    /// The shift begins on a sheet that is wet from the night, without rain or snow falling.
    pub begins_wet: bool,
    /// Lowest and highest air of the shift, °C.
    pub air_c: (f32, f32),
    /// Seam that the automatic welders can lay, m; 0 on a site of hand welders.
    pub seam_m: f32,
    /// What holds was judged without: rain, wind or the water on the sheet unknown in some hour.
    pub partly_known: bool,
}

/// Test welds of a day by cause.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct TestCauses {
    /// At the start of the shift.
    pub start: u8,
    /// After a break.
    pub after_break: u8,
    /// Ambient had moved.
    pub ambient_change: u8,
    /// The sheet had moved.
    pub sheet_change: u8,
    /// The longest time without a test was over.
    pub elapsed: u8,
    /// A hold was over.
    pub after_hold: u8,
}

/// What holds welding, gravest word first: the order of the plan's rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// Measurable snow.
    Snow,
    /// Measurable rain.
    Rain,
    /// Thunder, and the time until it counts as gone.
    Thunder,
    /// Water, dew or frost on the sheet.
    WetSheet,
    /// Storm wind.
    WindStop,
}

/// Minutes lost by what holds them, in the order of [`Hold::ALL`].
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct HoldMinutes([u16; Hold::ALL.len()]);

impl TestCauses {
    /// Counts a test.
    pub const fn add(&mut self, kind: CauseKind) {
        let count = match kind {
            CauseKind::Start => &mut self.start,
            CauseKind::AfterBreak => &mut self.after_break,
            CauseKind::AmbientChange => &mut self.ambient_change,
            CauseKind::SheetChange => &mut self.sheet_change,
            CauseKind::Elapsed => &mut self.elapsed,
            CauseKind::AfterHold => &mut self.after_hold,
        };
        *count = count.saturating_add(1);
    }

    /// All of them.
    pub fn total(&self) -> u32 {
        [self.start, self.after_break, self.ambient_change]
            .into_iter()
            .chain([self.sheet_change, self.elapsed, self.after_hold])
            .map(u32::from)
            .sum()
    }

    /// Those that the weather asks for: air or sheet had moved, or a hold was over.
    pub fn weather_driven(&self) -> u32 {
        [self.ambient_change, self.sheet_change, self.after_hold].into_iter().map(u32::from).sum()
    }
}

impl Hold {
    /// Each of them, in the order of the plan's rules.
    pub const ALL: [Self; 5] =
        [Self::Snow, Self::Rain, Self::Thunder, Self::WetSheet, Self::WindStop];

    /// The plan's rule that it is.
    pub const fn rule(self) -> Rule {
        match self {
            Self::Snow => Rule::Snow,
            Self::Rain => Rule::Rain,
            Self::Thunder => Rule::Thunder,
            Self::WetSheet => Rule::WetSheet,
            Self::WindStop => Rule::WindStop,
        }
    }

    /// By which welding is held; `None` for a rule that only asks for care.
    pub fn of(rule: Rule) -> Option<Self> {
        Self::ALL.into_iter().find(|hold| hold.rule() == rule)
    }

    /// The word in every output, the plan's own.
    pub const fn name(self) -> &'static str {
        self.rule().name()
    }
}

impl HoldMinutes {
    /// Minutes lost to `hold`.
    pub const fn of(&self, hold: Hold) -> u16 {
        self.0[hold as usize]
    }

    /// Adds a minute lost to `hold`.
    pub const fn add(&mut self, hold: Hold, minutes: u16) {
        self.0[hold as usize] = self.0[hold as usize].saturating_add(minutes);
    }

    /// All minutes lost.
    pub fn total(&self) -> u32 {
        self.0.iter().copied().map(u32::from).sum()
    }
}
