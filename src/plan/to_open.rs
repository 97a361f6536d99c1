//! How much roof may be opened before rain: what can be sealed again in time.

use chrono::{DateTime, Utc};

use super::day::Span;
use super::footage::Seam;
use super::reasons::Verdict;
use crate::site::Roll;
use crate::units::{Area, Length};

/// How much roof may be opened before rain, in the crew's own measure.
///
/// An upper end, as the day's seam is: the field seams of automatic welders at the plan's speeds,
/// without corners, details and hand welds.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofToOpen {
    /// By when to be sealed.
    pub sealed_by: DateTime<Utc>,
    /// From the start of each weldable stretch before then in which there is seam to be laid;
    /// ascending.
    pub from: Vec<OpenFrom>,
    /// What the site file lacks for more.
    pub lacks: Vec<Lack>,
}

/// What can be sealed from one moment until the deadline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenFrom {
    /// The first minute of a weldable stretch.
    pub start: DateTime<Utc>,
    /// Seam of all automatic welders from then until the deadline, tests, breaks and holds left
    /// out.
    pub seam: Length,
    /// Roof that this seam closes, laps taken off; `None` without the roll's width and lap.
    pub area: Option<Area>,
    /// Whole rolls of it; `None` without all of the roll's measures.
    pub rolls: Option<u32>,
}

/// A key of the site file that is not given and without which less can be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// No welder has a travel speed: all are held by hand.
    AutomaticWelder,
    /// How wide a roll is.
    Width,
    /// How far one sheet lies over the next.
    Lap,
    /// How long a roll is; without it end laps are not counted.
    RollLength,
}

impl Lack {
    /// The key, by its name in the site file.
    pub const fn key(self) -> &'static str {
        match self {
            Self::AutomaticWelder => "welders[].kind",
            Self::Width => "sheet.width",
            Self::Lap => "sheet.lap",
            Self::RollLength => "sheet.roll_length",
        }
    }
}

/// What can be sealed by `sealed_by`.
pub(super) fn roof_to_open(
    seam: &Seam<'_>,
    spans: &[Span],
    sealed_by: DateTime<Utc>,
) -> RoofToOpen {
    if !seam.is_known() {
        return RoofToOpen { sealed_by, from: Vec::new(), lacks: vec![Lack::AutomaticWelder] };
    }
    let roll = &seam.site.roll;
    let starts = weldable_starts(spans).filter(|start| *start < sealed_by);
    let from = starts.map(|start| open_from(roll, start, seam.between(start, sealed_by)));
    let lacks = [
        (roll.width.is_none(), Lack::Width),
        (roll.lap.is_none(), Lack::Lap),
        (roll.length.is_none(), Lack::RollLength),
    ];
    RoofToOpen {
        sealed_by,
        from: from.filter(|open| open.seam.meters() > 0.0).collect(),
        lacks: lacks
            .into_iter()
            .filter_map(|(is_lacking, lack)| is_lacking.then_some(lack))
            .collect(),
    }
}

/// Where welding begins: spans that follow one another without a hold are one stretch.
fn weldable_starts(spans: &[Span]) -> impl Iterator<Item = DateTime<Utc>> {
    let before = std::iter::once(Verdict::Hold).chain(spans.iter().map(|span| span.verdict));
    spans
        .iter()
        .zip(before)
        .filter(|(span, before)| *before == Verdict::Hold && span.verdict != Verdict::Hold)
        .map(|(span, _)| span.start)
}

/// Each foot of side lap closes a foot of sheet less what lies under the next one. Of a roll whose
/// length is known, one end lap across its width is welded too, and it covers its lap less.
fn open_from(roll: &Roll, start: DateTime<Utc>, seam: Length) -> OpenFrom {
    let open = OpenFrom { start, seam, area: None, rolls: None };
    let Some((width, lap)) = roll.width.zip(roll.lap) else { return open };
    let covers = |length: Length| Length::from_meters(length.meters() - lap.meters());
    let Some(length) = roll.length else {
        return OpenFrom { area: Some(Area::of(seam, covers(width))), ..open };
    };
    let rolls = seam.meters() / (length.meters() + width.meters());
    let laid = Length::from_meters(rolls * covers(length).meters());
    OpenFrom { area: Some(Area::of(laid, covers(width))), rolls: Some(whole(rolls)), ..open }
}

/// Rolls that can be finished; the noise of a unit conversion counts as finishing one.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "above zero, and a day of seam is a few hundred rolls"
)]
fn whole(rolls: f64) -> u32 {
    (rolls + crate::units::CONVERSION_NOISE).floor().max(0.0) as u32
}
