//! In which language a phone is spoken to: by what was chosen on it, else by what it asks for, else by
//! the site.

use axum::http::{HeaderMap, header};

use crate::site::Site;
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

/// The language of an answer to these headers.
pub(super) fn of(headers: &HeaderMap, site: &Site) -> Language {
    let texts = |name| headers.get_all(name).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = texts(header::COOKIE).flat_map(|cookies| cookies.split(';'));
    let kept = pairs.find_map(|pair| {
        let (name, tag) = pair.trim().split_once('=')?;
        (name == COOKIE).then(|| Language::of_tag(tag)).flatten()
    });
    kept.or_else(|| texts(header::ACCEPT_LANGUAGE).find_map(Language::accepted))
        .unwrap_or(site.language)
}
