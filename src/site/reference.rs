//! The reference of the site file, `docs/site-file.md`, from the table of keys.

use super::keys::{self, Form, Key, Preset, TABLES, Table};
use super::load::MAX_BYTES;
use super::value::Value;
use crate::units::UnitSystem;

const BEFORE: &str = "# The site file

<!-- Generated from `src/site/keys`. Change that table, then run
     `FAIRSEAM_BLESS=1 cargo test site_file`. -->

A site file describes one roof, its crew's day and its machines, in [TOML](https://toml.io).
[`config/example.toml`](../config/example.toml) shows every key in its place. `fairseam check SITE`
shows what holds for a site and whether it comes from the file or is a default.

- Keys that are not in the tables below are errors, and so are values outside the range. All faults
  of a file are reported at once, each with its line.
- `units` says what the numbers mean: `\"us\"` for °F, ft/min, mph, in, ft and mil, `\"metric\"` for °C,
  m/min, m/s, mm, m and mm. A metric site has defaults of its own: round numbers that a metric crew
  would choose, not conversions to the last digit.
- A temperature *difference* is told as such: 10 °F apart is 5.6 °C apart.
- Times are local wall time, `\"HH:MM\"`. A shift whose end is before its start runs over midnight.
- Entries of a list are numbered from 1 in messages: `welders[2].kind`.
";

/// The text of `docs/site-file.md`.
pub fn reference() -> String {
    let mut text = BEFORE.to_owned();
    text.push_str(&format!("- A file has at most {MAX_BYTES} bytes.\n"));
    for table in TABLES {
        push_table(&mut text, table);
    }
    text.push_str(AFTER);
    text
}

const AFTER: &str = "
## What must go together

- `shift.end` differs from `shift.start`; breaks lie within the shift and do not overlap.
- Every welder has a name of its own, whatever the case of its letters.
- `heat_low` is below `heat_max`; `speed_min` is at most `speed_max`.
- A hand welder has no `speed_min` and no `speed_max`.
- `lap` is less than half of `width`.
- The cord's gauge is given once: `cord_gauge_awg` or `cord_mm2`.
- `solar_reflectance` and `thermal_emittance` may stand beside `color`; the numbers win.
";

fn push_table(text: &mut String, table: &Table) {
    let title = match table.header() {
        header if header.is_empty() => "Top of the file".to_owned(),
        header => format!("`{header}`"),
    };
    text.push_str(&format!("\n## {title}\n\n{}\n\n", table.about));
    text.push_str("| key | value | default | meaning |\n|---|---|---|---|\n");
    for key in keys::of_table(table.path) {
        let (name, meaning) = (key.name(), key.meaning);
        let (value, default) = (twice(key, allowed), twice(key, default));
        text.push_str(&format!("| `{name}` | {value} | {default} | {meaning} |\n"));
    }
}

/// What `say` says for US units and for metric, once where it is the same.
fn twice(key: &Key, say: fn(&Key, UnitSystem) -> String) -> String {
    let (us, metric) = (say(key, UnitSystem::Us), say(key, UnitSystem::Metric));
    if us == metric { us } else { format!("us: {us}<br>metric: {metric}") }
}

fn allowed(key: &Key, units: UnitSystem) -> String {
    match key.form {
        Form::Tables { most } => format!("a list of at most {most} tables `[[{}]]`", key.path),
        _ => key.allowed(units),
    }
}

fn default(key: &Key, units: UnitSystem) -> String {
    match (key.preset, Value::preset(key, units)) {
        (Preset::Required, _) => "**required**".to_owned(),
        (_, Some(value)) => value.show(key, units),
        (_, None) => "none".to_owned(),
    }
}
