//! Numbers of a drawing.

/// To a tenth of a unit, the shortest way to write it.
pub(super) fn px(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0 + 0.0;
    format!("{tenths}")
}

/// A share or a distance from minutes.
#[expect(clippy::cast_precision_loss, reason = "minutes of a day")]
pub(super) const fn of_minutes(minutes: i64) -> f64 {
    minutes as f64
}

/// A number of lanes, letters or steps.
#[expect(clippy::cast_precision_loss, reason = "a few hundred at most")]
pub(super) const fn of_count(count: usize) -> f64 {
    count as f64
}
