//! A spread for each month: from one day in ten to nine in ten, with the middle marked.

use super::heat::drawing;
use super::markup::{Markup, element_of, empty};
use super::{float, px};
use crate::season::Spread;

const COLUMN: f64 = 56.0;
const LEFT: f64 = 36.0;
const TOP: f64 = 8.0;
const HEIGHT: f64 = 150.0;

/// Draws `spreads`; values are divided by `unit` to be shown, `name` says of what they are.
pub(super) fn distribution(
    id: &str,
    name: &str,
    spreads: &[(String, Option<Spread<u32>>)],
    unit: f64,
) -> Markup {
    let shown = |value: u32| f64::from(value) / unit;
    let most = spreads.iter().filter_map(|(_, spread)| Some(shown(spread.as_ref()?.p90)));
    let top = most.fold(1.0_f64, f64::max).ceil();
    let y = |value: f64| TOP + HEIGHT * (1.0 - value / top);
    let right = LEFT + COLUMN * float(spreads.len());
    let mut layers = Vec::new();
    let step = (top / 4.0).ceil();
    let mut tick = 0.0;
    while tick <= top {
        let line = format!("M{} {}H{}", px(LEFT), px(y(tick)), px(right));
        layers.push(empty("path", &[("d", &line), ("class", "rule")]));
        let (x, baseline) = (px(LEFT - 6.0), px(y(tick) + 4.0));
        let place = [("x", x.as_str()), ("y", &baseline), ("class", "name")];
        layers.push(element_of("text", &place, &format!("{tick}")));
        tick += step;
    }
    for (at, (month, spread)) in spreads.iter().enumerate() {
        let left = LEFT + COLUMN * float(at);
        let (x, baseline) = (px(left + COLUMN / 2.0), px(TOP + HEIGHT + 16.0));
        let place = [("x", x.as_str()), ("y", &baseline), ("class", "middle")];
        layers.push(element_of("text", &place, month));
        let Some(spread) = spread else { continue };
        let (low, high) = (y(shown(spread.p10)), y(shown(spread.p90)));
        let (from, to) = (px(left + 14.0), px(left + COLUMN - 14.0));
        // A spread of nothing is still a line.
        let (high, low) = (high - 1.0, low + 1.0);
        let bar = format!("M{from} {}H{to}V{}H{from}z", px(high), px(low));
        layers.push(empty("path", &[("d", &bar), ("class", "spread")]));
        let middle = y(shown(spread.p50));
        let line = format!("M{} {}H{}", px(left + 8.0), px(middle), px(left + COLUMN - 8.0));
        layers.push(empty("path", &[("d", &line), ("class", "middle-line")]));
    }
    let said = spreads.iter().filter_map(|(month, spread)| {
        let spread = spread.as_ref()?;
        let [low, middle, high] = [spread.p10, spread.p50, spread.p90].map(|v| px(shown(v)));
        Some(format!("{month}: {middle}, from {low} to {high}."))
    });
    let said = said.collect::<Vec<_>>().join(" ");
    drawing(id, (right, TOP + HEIGHT + 24.0), name, &said, layers)
}
