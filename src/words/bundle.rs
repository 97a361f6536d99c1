//! The messages of each language, read when the language is first spoken.

use std::sync::LazyLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

use super::Language;

/// What a variable of a message can be: a text or a number, which may choose between forms.
pub type Value<'a> = FluentValue<'a>;

type Bundle = FluentBundle<FluentResource>;

static ENGLISH: LazyLock<Bundle> = LazyLock::new(|| read(Language::En));
static SPANISH: LazyLock<Bundle> = LazyLock::new(|| read(Language::Es));

/// The files of a language's folder: each topic is named here once for all languages.
macro_rules! folder {
    ($folder:literal) => {
        [
            include_str!(concat!($folder, "/advice.ftl")),
            include_str!(concat!($folder, "/calendar.ftl")),
            include_str!(concat!($folder, "/crew.ftl")),
            include_str!(concat!($folder, "/dates.ftl")),
            include_str!(concat!($folder, "/page.ftl")),
            include_str!(concat!($folder, "/plan.ftl")),
            include_str!(concat!($folder, "/record.ftl")),
            include_str!(concat!($folder, "/server.ftl")),
            include_str!(concat!($folder, "/trial.ftl")),
        ]
    };
}

/// A message in a language; to be called by `tell!`, whose ids and variables a test looks after.
///
/// What a language lacks is said in English; an id that no language has stands in braces.
pub fn say<'a>(
    language: Language,
    id: &str,
    variables: impl IntoIterator<Item = (&'a str, Value<'a>)>,
) -> String {
    let variables: FluentArgs<'a> = variables.into_iter().collect();
    said(bundle(language), id, &variables)
        .or_else(|| said(bundle(Language::En), id, &variables))
        .unwrap_or_else(|| format!("{{{id}}}"))
}

fn said(bundle: &Bundle, id: &str, variables: &FluentArgs<'_>) -> Option<String> {
    let pattern = bundle.get_message(id)?.value()?;
    // What goes wrong in here stands in braces in the text; the test of the files finds it first.
    let mut wrong = Vec::new();
    Some(bundle.format_pattern(pattern, Some(variables), &mut wrong).into_owned())
}

fn bundle(language: Language) -> &'static Bundle {
    match language {
        Language::En => &ENGLISH,
        Language::Es => &SPANISH,
    }
}

fn read(language: Language) -> Bundle {
    let files = match language {
        Language::En => folder!("en"),
        Language::Es => folder!("es"),
    };
    let mut bundle = Bundle::new_concurrent(vec![language.identifier()]);
    // Isolating marks around variables would reach terminals and calendars that show them as boxes;
    // `render` takes such marks out of names before they get here.
    bundle.set_use_isolating(false);
    bundle.set_transform(Some(|text| text.replace('\n', " ").into()));
    for file in files {
        // Of a file with faults, what is sound; the test of the files finds faults and doubles.
        let file = FluentResource::try_new(file.to_owned()).unwrap_or_else(|(sound, _)| sound);
        bundle.add_resource_overriding(file);
    }
    bundle
}
