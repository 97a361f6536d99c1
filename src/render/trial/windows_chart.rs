//! Heat windows over time, welder by welder, as a small chart.

use chrono_tz::Tz;

use super::layout::{cell, page, wrap};
use super::list_text::EMPTY;
use super::{OFFICE, amounts, setting_words};
use crate::quality::KeptTrial;
use crate::render::figures;
use crate::testweld::{HeatVerdict, JudgedTrial, RunSetting};
use crate::units::{Temperature, UnitSystem};

/// Columns of a chart.
const WIDE: usize = 33;

/// A chart for each welder, oldest trial first.
pub fn windows_text(trials: &[KeptTrial], zone: Tz, units: UnitSystem) -> String {
    let mut trials: Vec<&KeptTrial> = trials.iter().collect();
    trials.sort_by(|one, other| one.when().cmp(&other.when()).then_with(|| one.id.cmp(&other.id)));
    let mut welders: Vec<&str> = Vec::new();
    for kept in &trials {
        if !welders.contains(&kept.judged.trial.welder.as_str()) {
            welders.push(&kept.judged.trial.welder);
        }
    }
    if welders.is_empty() {
        return page(&wrap(EMPTY, "", ""));
    }
    let mut lines = Vec::new();
    for welder in welders {
        let of_welder: Vec<&JudgedTrial> = trials
            .iter()
            .map(|kept| &kept.judged)
            .filter(|judged| judged.trial.welder == welder)
            .collect();
        lines.extend(chart(welder, &of_welder, zone, units));
        lines.push(String::new());
    }
    lines.extend(wrap(LEGEND, "", ""));
    page(&lines)
}

const LEGEND: &str = "c cold, = good, b burnt, ? proves nothing, * setting; a row that ends in `-` \
                      has no setting: do not weld.";

fn chart(welder: &str, trials: &[&JudgedTrial], zone: Tz, units: UnitSystem) -> Vec<String> {
    let mut lines = wrap(welder, "", "  ");
    let heats = || trials.iter().flat_map(|judged| judged.heats.iter().map(|heat| heat.heat));
    let (Some(low), Some(high)) =
        (heats().reduce(Temperature::min), heats().reduce(Temperature::max))
    else {
        return lines;
    };
    let scale = Scale { low, high };
    let (left, right) = (amounts::heat_figure(low, units), amounts::heat(high, units));
    let gap = (WIDE + 2).saturating_sub(left.chars().count() + right.chars().count()).max(1);
    lines.push(format!("{}{left}{}{right}", " ".repeat(20), " ".repeat(gap)));
    for judged in trials {
        let trial = &judged.trial;
        let when = trial.when.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string();
        let setting = match judged.reading.setting {
            RunSetting::RunAt { heat, speed } => setting_words::setting(OFFICE, heat, speed, units),
            RunSetting::DoNotWeld(_) => "-".to_owned(),
        };
        let air = figures::temperature(trial.ambient, units);
        let line = format!("  {} |{}| {setting}", cell(&when, 16), scale.row(judged));
        lines.push(line);
        let sheet = trial.sheet.map_or_else(String::new, |sheet| {
            format!(", sheet {}", figures::temperature(sheet, units))
        });
        lines.push(format!("{}air {air}{sheet}", " ".repeat(20)));
    }
    lines
}

/// From the lowest to the highest heat that was ever tried on a welder.
struct Scale {
    low: Temperature,
    high: Temperature,
}

impl Scale {
    fn row(&self, judged: &JudgedTrial) -> String {
        let mut row = vec![' '; WIDE];
        let mut put = |column: usize, sign: char| {
            if let Some(place) = row.get_mut(column) {
                *place = sign;
            }
        };
        let sound = match judged.reading.setting {
            RunSetting::RunAt { heat, .. } => Some(heat),
            RunSetting::DoNotWeld(_) => None,
        };
        if let Some(window) = judged.reading.window.filter(|_| sound.is_some()) {
            for column in self.column(window.bottom)..=self.column(window.top) {
                put(column, '=');
            }
        }
        for heat in &judged.heats {
            let sign = match heat.verdict {
                HeatVerdict::Good { .. } => '=',
                HeatVerdict::Cold(_) => 'c',
                HeatVerdict::Burnt(_) => 'b',
                HeatVerdict::NotConclusive(_) => '?',
            };
            put(self.column(heat.heat), sign);
        }
        if let Some(heat) = sound {
            put(self.column(heat), '*');
        }
        row.into_iter().collect()
    }

    /// 0 to the last; the first where only one heat was ever tried.
    fn column(&self, heat: Temperature) -> usize {
        let share = (heat - self.low).kelvin() / (self.high - self.low).kelvin();
        let column = (share * (WIDE - 1) as f64).round();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "kept within the columns first; a share that is no number is the first"
        )]
        let column =
            if column.is_finite() { column.clamp(0.0, (WIDE - 1) as f64) as usize } else { 0 };
        column
    }
}
