//! The words of the site file for the choices of the model.

use chrono::Weekday;

use super::{Color, Kind, Polymer, SourceName};
use crate::units::UnitSystem;
use crate::words::Language;

/// A choice whose values have one word each in the site file.
pub(super) trait Named: Copy + 'static {
    /// Every value.
    const ALL: &'static [Self];

    /// Its word.
    fn word(self) -> &'static str;

    /// The value of this word.
    fn of_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|value| value.word() == word)
    }
}

impl Polymer {
    /// The word in the site file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pvc => "pvc",
            Self::Tpo => "tpo",
            Self::Kee => "kee",
        }
    }
}

impl Color {
    /// The word in the site file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::White => "white",
            Self::Gray => "gray",
            Self::Tan => "tan",
            Self::Black => "black",
        }
    }
}

impl Kind {
    /// The word in the site file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Automatic => "automatic",
            Self::Hand => "hand",
        }
    }
}

impl SourceName {
    /// The word in the site file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Auto => "auto",
            Self::Nws => "nws",
            Self::MetNorway => "met-norway",
            Self::OpenMeteo => "open-meteo",
            Self::File => "file",
        }
    }
}

impl Named for Polymer {
    const ALL: &'static [Self] = &[Self::Pvc, Self::Tpo, Self::Kee];

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Named for Color {
    const ALL: &'static [Self] = &[Self::White, Self::Gray, Self::Tan, Self::Black];

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Named for Kind {
    const ALL: &'static [Self] = &[Self::Automatic, Self::Hand];

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Named for SourceName {
    const ALL: &'static [Self] =
        &[Self::Auto, Self::Nws, Self::MetNorway, Self::OpenMeteo, Self::File];

    fn word(self) -> &'static str {
        self.name()
    }
}

impl Named for UnitSystem {
    const ALL: &'static [Self] = &[Self::Us, Self::Metric];

    fn word(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Metric => "metric",
        }
    }
}

impl Named for Language {
    const ALL: &'static [Self] = &Self::ALL;

    fn word(self) -> &'static str {
        self.tag()
    }
}

impl Named for Weekday {
    const ALL: &'static [Self] =
        &[Self::Mon, Self::Tue, Self::Wed, Self::Thu, Self::Fri, Self::Sat, Self::Sun];

    fn word(self) -> &'static str {
        match self {
            Self::Mon => "mon",
            Self::Tue => "tue",
            Self::Wed => "wed",
            Self::Thu => "thu",
            Self::Fri => "fri",
            Self::Sat => "sat",
            Self::Sun => "sun",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::keys::{self, Form};

    fn words<T: Named>() -> Vec<&'static str> {
        T::ALL.iter().map(|value| value.word()).collect()
    }

    #[test]
    fn the_table_of_keys_and_the_model_know_the_same_words() {
        for (path, expected) in [
            ("units", words::<UnitSystem>()),
            ("language", words::<Language>()),
            ("shift.workdays", words::<Weekday>()),
            ("sheet.polymer", words::<Polymer>()),
            ("sheet.color", words::<Color>()),
            ("welders[].kind", words::<Kind>()),
            ("weather.source", words::<SourceName>()),
        ] {
            let (Form::Choice(allowed) | Form::Choices(allowed)) = keys::find(path).unwrap().form
            else {
                panic!("{path} is not a choice");
            };
            assert_eq!(allowed, expected, "{path}");
        }
    }
}
