//! Our event under an address that is not ours: a server that takes each UID once says so, and mostly
//! where.
//!
//! Source: RFC4791, section 5.3.2.1, for `CALDAV:no-uid-conflict` and its `DAV:href`; section 7.8.6 for
//! the query by UID. Source: RFC4918, sections 8.3 and 13, for what an address in an answer is and how
//! many answers come in one.

use percent_encoding::percent_decode_str;
use roxmltree::{Document, Node};
use url::Url;

const DAV: &str = "DAV:";
const CALDAV: &str = "urn:ietf:params:xml:ns:caldav";
/// Addresses that are looked into. A UID is searched for as a part of a text, so that a longer one is
/// found along with it.
const MOST: usize = 16;

/// What a server names as the event of the same UID.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct UidConflict {
    /// The address, as it stands there; `None` where none is named.
    pub href: Option<String>,
}

/// Where an address that a server names lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Place {
    /// In our calendar, under this last part.
    Inside(String),
    /// Anywhere else: whole, as it may be told.
    Outside(String),
}

/// Reads the body of a refusal; `None` where it is about something else.
pub fn uid_conflict(body: &str) -> Option<UidConflict> {
    let Ok(document) = Document::parse(body) else {
        // No XML, and the word all the same: better to search than to give up.
        return body.contains("no-uid-conflict").then(UidConflict::default);
    };
    let conflict = document.descendants().find(|node| is(*node, CALDAV, "no-uid-conflict"))?;
    let href = conflict.descendants().find(|node| is(*node, DAV, "href"));
    Some(UidConflict { href: href.and_then(text) })
}

/// The addresses that an answer of many parts names, some at most; none out of what is no such answer.
pub fn hrefs(body: &str) -> Vec<String> {
    let Ok(document) = Document::parse(body) else { return Vec::new() };
    let answers = document.root_element();
    if !is(answers, DAV, "multistatus") {
        return Vec::new();
    }
    let answers = answers.children().filter(|node| is(*node, DAV, "response"));
    let named = answers.filter_map(|answer| answer.children().find(|node| is(*node, DAV, "href")));
    named.filter_map(text).take(MOST).collect()
}

/// The query for the event of `uid` in one calendar.
pub(super) fn query_for(uid: &str) -> String {
    let uid = uid.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    format!(
        "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n\
         <C:calendar-query xmlns:D=\"{DAV}\" xmlns:C=\"{CALDAV}\"><D:prop><D:getetag/></D:prop>\
         <C:filter><C:comp-filter name=\"VCALENDAR\"><C:comp-filter name=\"VEVENT\">\
         <C:prop-filter name=\"UID\"><C:text-match collation=\"i;octet\">{uid}</C:text-match>\
         </C:prop-filter></C:comp-filter></C:comp-filter></C:filter></C:calendar-query>\n"
    )
}

/// Where `href` lies, seen from the calendar at `collection`, whose path ends with a slash.
///
/// The password goes to that calendar and nowhere else, whatever an answer says.
pub(super) fn place(collection: &Url, href: &str) -> Place {
    let Ok(url) = collection.join(href) else { return Place::Outside(shortened(href)) };
    let is_same_server = url.origin() == collection.origin();
    match last_part(collection, &url).filter(|_| is_same_server) {
        Some(last) => Place::Inside(last),
        None => Place::Outside(shortened(if is_same_server { url.path() } else { url.as_str() })),
    }
}

/// What follows the calendar's own path, still encoded; one part, or none.
fn last_part(collection: &Url, url: &Url) -> Option<String> {
    // Servers encode the same path in different ways, most of all the @ of a user's name.
    let plain = |part: &str| percent_decode_str(part).collect::<Vec<u8>>();
    let whole = collection.path_segments()?.filter(|part| !part.is_empty());
    let mut parts = url.path_segments()?.filter(|part| !part.is_empty());
    for part in whole {
        if plain(part) != plain(parts.next()?) {
            return None;
        }
    }
    let last = parts.next()?;
    let is_whole = parts.next().is_none() && !url.path().ends_with('/');
    (is_whole && url.query().is_none()).then(|| last.to_owned())
}

/// What another machine says, as it may stand in a log.
fn shortened(href: &str) -> String {
    const LONGEST: usize = 120;
    href.chars().filter(|sign| sign.is_ascii_graphic()).take(LONGEST).collect()
}

fn is(node: Node<'_, '_>, namespace: &str, name: &str) -> bool {
    node.is_element()
        && node.tag_name().name() == name
        && node.tag_name().namespace() == Some(namespace)
}

fn text(node: Node<'_, '_>) -> Option<String> {
    node.text().map(|text| text.trim().to_owned()).filter(|text| !text.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place_of(href: &str) -> Place {
        let ours = Url::parse("https://c.example.com/cal/m%40roof.example/crew/").unwrap();
        place(&ours, href)
    }

    #[test]
    fn an_address_is_ours_only_within_our_calendar() {
        let inside = |last: &str| Place::Inside(last.to_owned());
        let whole = "https://c.example.com/cal/m%40roof.example/crew/a.ics";
        for href in
            [whole, "/cal/m%40roof.example/crew/a.ics", "/cal/m@roof.example/crew/a.ics", "a.ics"]
        {
            assert_eq!(place_of(href), inside("a.ics"), "{href}");
        }
        assert_eq!(place_of("/cal/m@roof.example/crew/a%20b%2F.ics"), inside("a%20b%2F.ics"));
        for href in [
            "https://elsewhere.example.com/cal/m%40roof.example/crew/a.ics",
            "http://c.example.com/cal/m%40roof.example/crew/a.ics",
            "//elsewhere.example.com/cal/m%40roof.example/crew/a.ics",
            "/cal/m%40roof.example/other/a.ics",
            "/cal/m%40roof.example/crew/",
            "/cal/m%40roof.example/crew/deeper/a.ics",
            "../other/a.ics",
            "%2e%2e/other/a.ics",
            "a.ics?x=1",
            "",
            "/",
            "http://[",
        ] {
            assert!(matches!(place_of(href), Place::Outside(_)), "{href}");
        }
        let Place::Outside(told) = place_of("http://x.example/\u{1b}[2J") else { panic!() };
        assert!(told.chars().all(|sign| sign.is_ascii_graphic()), "{told:?}");
    }

    /// As far down as an answer of the longest kind can go, and with what expands itself.
    #[test]
    fn an_answer_that_means_harm_is_read_as_none() {
        let deep = "<a>".repeat(350_000);
        assert_eq!((uid_conflict(&deep), hrefs(&deep)), (None, Vec::new()));
        let closed = format!("{}{}", "<a>".repeat(100_000), "</a>".repeat(100_000));
        assert_eq!((uid_conflict(&closed), hrefs(&closed)), (None, Vec::new()));
        let expanding = "<!DOCTYPE a [<!ENTITY b \"bbbb\"><!ENTITY c \"&b;&b;\">]><a>&c;</a>";
        assert_eq!((uid_conflict(expanding), hrefs(expanding)), (None, Vec::new()));
    }

    #[test]
    fn a_uid_with_signs_of_its_own_stays_one_text() {
        let query = query_for("a<b>&c");
        let document = Document::parse(&query).unwrap();
        let uid = document.descendants().find(|node| is(*node, CALDAV, "text-match")).unwrap();
        assert_eq!(uid.text(), Some("a<b>&c"));
    }
}
