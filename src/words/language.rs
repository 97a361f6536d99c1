//! The languages there are, and which of them a reader gets.

use fluent_langneg::{NegotiationStrategy, negotiate_languages};
use unic_langid::LanguageIdentifier;

/// A language in which the crew can be spoken to.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
pub enum Language {
    /// English as on U.S. roofs.
    #[default]
    En,
    /// Spanish as on U.S. roofs.
    Es,
}

impl Language {
    /// Each of them.
    pub const ALL: [Self; 2] = [Self::En, Self::Es];

    /// The tag (BCP 47), which is also the name of its folder and what a site file says: `es`.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::En => "en",
            Self::Es => "es",
        }
    }

    /// Its own name for itself: `Español`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::En => "English",
            Self::Es => "Español",
        }
    }

    /// The language of a tag such as `es`, `es-MX` or `en-US`; `None` for one that is not here.
    pub fn of_tag(tag: &str) -> Option<Self> {
        Self::first_of(&[tag.trim().parse().ok()?])
    }

    /// What a browser's `Accept-Language` asks for first among the languages here; `None` where it
    /// asks for none of them, and the site's own language is the one to take.
    ///
    /// Source: RFC9110, section 12.5.4 with the weights of 12.4.2.
    pub fn accepted(header: &str) -> Option<Self> {
        let mut asked: Vec<(f32, LanguageIdentifier)> =
            header.split(',').filter_map(weighted).collect();
        // Stable: of equal weights the one named first comes first.
        asked.sort_by(|(one, _), (other, _)| other.total_cmp(one));
        Self::first_of(&asked.into_iter().map(|(_, tag)| tag).collect::<Vec<_>>())
    }

    pub(super) fn identifier(self) -> LanguageIdentifier {
        // Our own tags parse, which a test below holds them to.
        self.tag().parse().unwrap_or_default()
    }

    fn first_of(asked: &[LanguageIdentifier]) -> Option<Self> {
        let here = Self::ALL.map(Self::identifier);
        let best = negotiate_languages(asked, &here, None, NegotiationStrategy::Filtering);
        let best = best.first()?;
        Self::ALL.into_iter().find(|language| language.identifier() == **best)
    }
}

/// A tag of the header with its weight; nothing for what is no language tag or is refused by `q=0`.
fn weighted(item: &str) -> Option<(f32, LanguageIdentifier)> {
    let mut parts = item.split(';').map(str::trim);
    let tag = parts.next()?.parse().ok()?;
    let weight = match parts.find_map(|part| part.strip_prefix("q=")) {
        Some(weight) => weight.parse().ok().filter(|weight| (0.0..=1.0).contains(weight))?,
        None => 1.0,
    };
    (weight > 0.0).then_some((weight, tag))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_finds_its_language_whatever_its_region() {
        for language in Language::ALL {
            assert_eq!(language.identifier().to_string(), language.tag());
            assert_eq!(Language::of_tag(language.tag()), Some(language));
        }
        for spanish in ["es-MX", "es-US", "es-419", "ES", " es_PR "] {
            assert_eq!(Language::of_tag(spanish), Some(Language::Es), "{spanish}");
        }
        assert_eq!(Language::of_tag("en-GB"), Some(Language::En));
        for other in ["fr", "", "español", "*", "e", "pt-BR"] {
            assert_eq!(Language::of_tag(other), None, "{other}");
        }
    }

    #[test]
    fn the_weights_of_a_browser_are_heard() {
        // The header of RFC9110, 12.5.4, has Danish first and English in two weights after it.
        assert_eq!(Language::accepted("da, en-gb;q=0.8, en;q=0.7"), Some(Language::En));
        assert_eq!(Language::accepted("es-MX,es;q=0.9,en;q=0.8"), Some(Language::Es));
        assert_eq!(Language::accepted("en;q=0.5, es-US;q=0.9"), Some(Language::Es));
        assert_eq!(Language::accepted("es;q=0, en;q=0.1"), Some(Language::En));
        assert_eq!(Language::accepted("es, en"), Some(Language::Es));
        for none in ["", "fr, de;q=0.9", "*", "es;q=0", "es;q=2", "es;q=NaN", ";;,,=", "\u{0}"] {
            assert_eq!(Language::accepted(none), None, "{none}");
        }
    }
}
