//! From a judged trial to its JSON shape.

use super::wire::TrialJson;
use super::wire_judged::{
    HeatVerdictJson, JudgedJson, OddJson, RecordedJson, SettingJson, WindowJson,
};
use super::{Show, certifies_nothing, doubt_words, finding_words, setting_words, verdict_words};
use crate::render::json::Figure;
use crate::testweld::{Finding, HeatWindow, JudgedTrial, RunSetting};
use crate::units::Temperature;

/// Version of the shapes, raised when a reader of the old one would misread the new.
pub(super) const VERSION: u32 = 1;

impl Show {
    /// A judged trial and the checkpoint that it was made for in their JSON shape; `None` where a
    /// number of the trial is none.
    pub fn judged(self, judged: &JudgedTrial, checkpoint: Option<&str>) -> Option<JudgedJson> {
        let (language, units) = (self.language, self.units);
        let trial = self.trial(&judged.trial, None)?;
        Some(JudgedJson {
            trial: TrialJson { checkpoint: checkpoint.map(str::to_owned), ..trial },
            setting: self.setting(judged),
            window: judged.reading.window.as_ref().map(|window| self.window(window)),
            doubts: judged
                .doubts
                .iter()
                .map(|doubt| OddJson {
                    name: doubt.name().to_owned(),
                    text: doubt_words::doubt(language, doubt, units),
                    next: doubt_words::next(language, doubt),
                    heats: Vec::new(),
                })
                .collect(),
            findings: judged.reading.findings.iter().map(|finding| self.finding(finding)).collect(),
            heats: judged
                .heats
                .iter()
                .map(|heat| HeatVerdictJson {
                    heat: self.temperature(heat.heat),
                    verdict: heat.verdict.name().to_owned(),
                    text: verdict_words::reason(language, heat, units),
                    strips_across: heat.strips_across,
                    strips_along: heat.strips_along,
                })
                .collect(),
        })
    }

    fn setting(self, judged: &JudgedTrial) -> SettingJson {
        let setting = judged.reading.setting;
        let (why, heat, speed) = match setting {
            RunSetting::RunAt { heat, speed } => (None, Some(heat), speed),
            RunSetting::DoNotWeld(why) => (Some(why.name().to_owned()), None, None),
        };
        SettingJson {
            verdict: setting.name().to_owned(),
            why,
            heat: heat.and_then(|heat| self.temperature(heat)),
            speed: self.maybe_speed(speed),
            text: setting_words::headline(self.language, judged, self.units),
        }
    }

    fn window(self, window: &HeatWindow) -> WindowJson {
        WindowJson {
            bottom: self.temperature(window.bottom),
            top: self.temperature(window.top),
            center: self.temperature(window.center),
            bottom_found: window.bottom_found,
            top_found: window.top_found,
        }
    }

    fn finding(self, finding: &Finding) -> OddJson {
        let heats: Vec<Figure> =
            to_try(finding).into_iter().filter_map(|heat| self.temperature(heat)).collect();
        OddJson {
            name: finding.name().to_owned(),
            text: finding_words::finding(self.language, finding, self.units),
            next: finding_words::next(self.language, finding, self.units),
            heats,
        }
    }
}

/// Heats to try or to repeat.
fn to_try(finding: &Finding) -> Vec<Temperature> {
    match finding {
        Finding::HoleInTheMiddle { failed: heats, .. }
        | Finding::ColdThenBurnt { half_steps: heats, .. }
        | Finding::SingleGoodHeat { half_steps: heats, .. }
        | Finding::NarrowerThanStep { half_steps: heats, .. }
        | Finding::Repeat { heats } => heats.clone(),
        Finding::ColdAboveGood { cold: heat, .. }
        | Finding::BurntBelowGood { burnt: heat, .. }
        | Finding::AllCold { next: heat, .. }
        | Finding::AllBurnt { next: heat, .. }
        | Finding::TopNotFound { next: heat, .. }
        | Finding::BottomNotFound { next: heat, .. } => vec![*heat],
        Finding::BurntBelowCold { .. }
        | Finding::OutsideMachine { .. }
        | Finding::AllColdToMaximum { .. }
        | Finding::AllBurntToLowest { .. }
        | Finding::TopAtMaximum { .. }
        | Finding::BottomAtLowest { .. } => Vec::new(),
    }
}

/// What `record --format json` prints; `None` where a number of the trial is none.
pub fn recorded_json(
    show: Show,
    site: &str,
    judged: &JudgedTrial,
    checkpoint: Option<&str>,
    id: Option<&str>,
) -> Option<String> {
    let recorded = RecordedJson {
        fairseam: VERSION,
        site: site.to_owned(),
        id: id.map(str::to_owned),
        written: id.is_some(),
        judged: show.judged(judged, checkpoint)?,
        caution: certifies_nothing(show.language),
    };
    pretty(&recorded)
}

/// Indented, with a line end.
pub(super) fn pretty(value: &impl serde::Serialize) -> Option<String> {
    let mut text = serde_json::to_string_pretty(value).ok()?;
    text.push('\n');
    Some(text)
}
