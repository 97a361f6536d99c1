//! In which language a phone is spoken to: by what was chosen on it, else by what it asks for, else by
//! the site.

use axum::http::{HeaderMap, header};

use crate::words::Language;

const COOKIE: &str = "fairseam-language";
const SECONDS: u32 = 400 * 24 * 3600;

/// What a query such as `language=es` chooses.
pub(super) fn chosen(query: &str) -> Option<Language> {
    let mut pairs = url::form_urlencoded::parse(query.as_bytes());
    pairs.find_map(|(name, tag)| (name == "language").then(|| Language::of_tag(&tag)).flatten())
}

/// Has the phone keep the choice. It tells nothing of anybody, and no script needs it.
pub(super) fn keep(language: Language, secure: bool) -> String {
    let secure = if secure { "; Secure" } else { "" };
    format!(
        "{COOKIE}={}; Path=/; Max-Age={SECONDS}; HttpOnly; SameSite=Strict{secure}",
        language.tag()
    )
}

/// The language of an answer to these headers, on a site of that language.
pub(super) fn of(headers: &HeaderMap, of_site: Language) -> Language {
    let texts = |name| headers.get_all(name).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = texts(header::COOKIE).flat_map(|cookies| cookies.split(';'));
    let kept = pairs.find_map(|pair| {
        let (name, tag) = pair.trim().split_once('=')?;
        (name == COOKIE).then(|| Language::of_tag(tag)).flatten()
    });
    kept.or_else(|| texts(header::ACCEPT_LANGUAGE).find_map(Language::accepted)).unwrap_or(of_site)
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderValue;

    use super::*;

    fn headers(cookie: Option<&'static str>, accepts: Option<&'static str>) -> HeaderMap {
        let mut headers = HeaderMap::new();
        let given = [(header::COOKIE, cookie), (header::ACCEPT_LANGUAGE, accepts)];
        for (name, value) in given {
            value.map(|value| headers.insert(name, HeaderValue::from_static(value)));
        }
        headers
    }

    #[test]
    fn the_choice_comes_first_then_the_phone_then_the_site() {
        let (english, spanish) = (Some("en-US,en;q=0.9"), Some("es-MX,es;q=0.9"));
        let chosen = Some("fairseam-key=x; fairseam-language=es");
        assert_eq!(of(&headers(chosen, english), Language::En), Language::Es);
        assert_eq!(of(&headers(None, spanish), Language::En), Language::Es);
        assert_eq!(of(&headers(None, english), Language::Es), Language::En);
        assert_eq!(of(&headers(None, Some("fr")), Language::Es), Language::Es);
        assert_eq!(of(&headers(None, None), Language::Es), Language::Es);
        assert_eq!(of(&headers(Some("fairseam-language=xx"), None), Language::En), Language::En);
    }

    #[test]
    fn a_query_chooses_a_language_that_there_is() {
        assert_eq!(chosen("language=es"), Some(Language::Es));
        assert_eq!(chosen("a=b&language=en-GB"), Some(Language::En));
        for none in ["", "language=", "language=fr", "language=%00", "tongue=es"] {
            assert_eq!(chosen(none), None, "{none}");
        }
    }
}
