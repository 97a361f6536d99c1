//! The form of a correction: what stands, to be written over.

use chrono::SecondsFormat;
use chrono_tz::Tz;

use crate::quality::KeptTrial;
use crate::render::figures::round_to;
use crate::render::markup::{Markup, element, element_of, empty};
use crate::render::trial::notation;
use crate::server::house::form_mark;
use crate::server::roof::Roof;
use crate::testweld::HeatTrial;
use crate::units::UnitSystem;

/// Names and values, in the order of the form; of `heat` and `strips` as many as there are heats.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Fields(pub(super) Vec<(String, String)>);

/// Heats that can be added at once.
const EMPTY_HEATS: usize = 1;

/// Name, label, what it is measured in.
const TEXTS: [(&str, &str); 12] = [
    ("at", "Made at"),
    ("who", "Made by"),
    ("welder", "Welder"),
    ("checkpoint", "For the checkpoint"),
    ("air", "Air in the shade"),
    ("sheet-temperature", "Sheet"),
    ("speed", "Speed held"),
    ("lot", "Lot"),
    ("roll", "Roll"),
    ("weights", "Weights"),
    ("air-flow", "Air flow"),
    ("note", "Note"),
];

impl Fields {
    /// What stands for a trial.
    pub(super) fn of(kept: &KeptTrial, units: UnitSystem, zone: Tz) -> Self {
        let trial = &kept.judged.trial;
        let number = |value: f64| round_to(value, 1e6).to_string();
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        let at = trial.when.with_timezone(&zone).to_rfc3339_opts(SecondsFormat::Secs, false);
        let sheet = trial.sheet.map(|sheet| number(sheet.in_units(units)));
        let speed = trial.speed.map(|speed| number(speed.in_units(units)));
        let one = [
            at,
            trial.who.clone(),
            trial.welder.clone(),
            text(&kept.checkpoint),
            number(trial.ambient.in_units(units)),
            sheet.unwrap_or_default(),
            speed.unwrap_or_default(),
            text(&trial.lot),
            text(&trial.roll),
            text(&trial.weights),
            text(&trial.air_flow),
            text(&trial.note),
        ];
        let one = TEXTS.iter().zip(one).map(|((name, _), value)| ((*name).to_owned(), value));
        let heats = trial.heats.iter().flat_map(|heat| {
            let HeatTrial { speed, strips, .. } = heat;
            let speed = speed.map(|speed| format!(" at {}", number(speed.in_units(units))));
            let heat = number(heat.heat.in_units(units)) + &speed.unwrap_or_default();
            [("heat".to_owned(), heat), ("strips".to_owned(), notation(strips, units))]
        });
        let seen = ("seen".to_owned(), form_mark(kept));
        Self(one.chain(heats).chain([seen]).collect())
    }

    fn one(&self, name: &str) -> &str {
        self.0.iter().find(|(field, _)| field == name).map_or("", |(_, value)| value)
    }

    fn all(&self, name: &str) -> Vec<&str> {
        let fields = self.0.iter().filter(|(field, _)| field == name);
        fields.map(|(_, value)| value.trim()).collect()
    }

    /// Heats with their strips, empty rows left out.
    fn heats(&self) -> Vec<(&str, &str)> {
        let heats = self.all("heat").into_iter().zip(self.all("strips"));
        heats.filter(|(heat, strips)| !heat.is_empty() || !strips.is_empty()).collect()
    }
}

/// What of `typed` is not what stands, so that nothing is rounded on its way through a form. Heats
/// count as one thing.
pub(super) fn changed(typed: &[(String, String)], stands: &Fields) -> Vec<(String, String)> {
    let typed_fields = Fields(typed.to_vec());
    let same_heats = typed_fields.heats() == stands.heats();
    let differs = |(name, value): &&(String, String)| match name.as_str() {
        "heat" | "strips" => !same_heats,
        "why" => false,
        "seen" => true,
        name => value.trim() != stands.one(name).trim(),
    };
    typed.iter().filter(differs).cloned().collect()
}

/// The form, with what was typed already.
pub(super) fn form(to: &str, fields: &Fields, roof: &Roof, problem: Option<&str>) -> Markup {
    let said =
        problem.map(|said| element_of("p", &[("class", "problem"), ("role", "alert")], said));
    let texts = TEXTS.iter().map(|(name, label)| {
        let unit = unit_of(name, roof.site.units);
        let label = if unit.is_empty() { (*label).to_owned() } else { format!("{label}, {unit}") };
        input(name, name, &label, fields.one(name))
    });
    let units = roof.site.units;
    let heats = fields.heats();
    let empty_rows = std::iter::repeat_n(("", ""), EMPTY_HEATS);
    let heats = heats.into_iter().chain(empty_rows).enumerate().map(|(row, (heat, strips))| {
        let number = row + 1;
        let heat_label = format!("Heat {number}, {}", units.temperature());
        let pair = [
            input(&format!("heat-{number}"), "heat", &heat_label, heat),
            input(&format!("strips-{number}"), "strips", &format!("Its strips ({number})"), strips),
        ];
        element("div", &[("class", "pair")], pair.into())
    });
    let how = "Strips: width, how they parted, signs; `1.5 film-tear x3, 0.3 cold along, 2 \
        film-tear+browning`, or `none`. A field that is emptied stays as it was.";
    let legend = element_of("legend", &[], "Heats and strips");
    let heats = element("fieldset", &[], std::iter::once(legend).chain(heats).collect());
    let seen = [("type", "hidden"), ("name", "seen"), ("value", fields.one("seen"))];
    let why = input("why", "why", "Why it is corrected", fields.one("why"));
    let end = [
        heats,
        element_of("p", &[("class", "hint")], how),
        why,
        empty("input", &seen),
        element_of("button", &[("type", "submit")], "Write the correction down"),
        element_of("p", &[("class", "hint")], "What it said before stays readable."),
    ];
    let texts = element("div", &[("class", "fields")], texts.collect());
    let parts = said.into_iter().chain([texts]).chain(end);
    element("form", &[("method", "post"), ("action", to), ("class", "correct")], parts.collect())
}

fn unit_of(name: &str, units: UnitSystem) -> &'static str {
    match name {
        "air" | "sheet-temperature" => units.temperature(),
        "speed" => units.travel_speed(),
        _ => "",
    }
}

fn input(id: &str, name: &str, label: &str, value: &str) -> Markup {
    let field = [("id", id), ("name", name), ("value", value), ("autocomplete", "off")];
    let parts = [element_of("label", &[("for", id)], label), empty("input", &field)];
    element("div", &[("class", "field")], parts.into())
}
