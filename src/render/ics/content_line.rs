//! Content lines: components of the `icalendar` crate as bytes that hold RFC 5545's rules.
//!
//! The components are built with that crate's types and printed here, because its own printer
//! (seen with 0.17.17) hangs or panics while folding some text, lets lines of 76 octets through,
//! and writes NAME, COLOR, URL, GEO, carriage returns and parameter values as they come, so that a
//! newline in one of them starts a property of its own. The texts come from a site file. This file
//! may go when that printer folds by octets and cleans every value; the inputs that show it are in
//! this file's tests and in `tests/it/calendar_hostile.rs`.

use icalendar::{Calendar, CalendarComponent, Component, Property, ValueType};

/// Longest line without its line end. Source: RFC5545, section 3.1.
const LONGEST_LINE_OCTETS: usize = 75;

/// A value that may not be written, because cleaning it would change what it means.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// A URI, a position, a UID or another value that is no text holds a control character.
    #[error("the calendar's {property} must not hold control characters; found {value:?}")]
    ControlCharacter {
        /// Name of the property.
        property: String,
        /// What it holds.
        value: String,
    },
    /// A name that is not made of letters, digits and hyphens.
    #[error("a name in the calendar must be letters, digits and hyphens; found {name:?}")]
    Name {
        /// The name.
        name: String,
    },
    /// A component that is not an event.
    #[error("only events can be written to a calendar")]
    NotAnEvent,
}

/// How a property's value is written.
enum Kind {
    /// As text: cleaned and escaped.
    Text,
    /// Texts that are escaped already and joined by commas: cleaned.
    TextList,
    /// As it is, or not at all.
    Raw,
}

/// Writes `calendar`: lines end in CRLF and hold at most 75 octets.
///
/// # Errors
/// [`Refused`] for a value or name that cannot be written without changing its meaning.
pub fn write_calendar(calendar: &Calendar) -> Result<String, Refused> {
    let mut out = String::new();
    push_line(&mut out, "BEGIN:VCALENDAR");
    for property in &calendar.properties {
        push_property(&mut out, property)?;
    }
    for component in &calendar.components {
        match component {
            CalendarComponent::Event(event) => push_component(&mut out, event)?,
            _ => return Err(Refused::NotAnEvent),
        }
    }
    push_line(&mut out, "END:VCALENDAR");
    Ok(out)
}

fn push_component(out: &mut String, component: &impl Component) -> Result<(), Refused> {
    let kind = component.component_kind();
    push_line(out, &format!("BEGIN:{}", checked_name(&kind)?));
    let multiple = component.multi_properties().values().flatten();
    for property in component.properties().values().chain(multiple) {
        push_property(out, property)?;
    }
    for inner in component.components() {
        push_component(out, inner)?;
    }
    push_line(out, &format!("END:{kind}"));
    Ok(())
}

fn push_property(out: &mut String, property: &Property) -> Result<(), Refused> {
    let mut line = checked_name(property.key())?.to_owned();
    for parameter in property.params().values() {
        line.push(';');
        line.push_str(checked_name(parameter.key())?);
        line.push('=');
        line.push_str(&parameter_value(parameter.value()));
    }
    line.push(':');
    line.push_str(&value(property)?);
    push_line(out, &line);
    Ok(())
}

fn value(property: &Property) -> Result<String, Refused> {
    let value = property.value();
    match kind(property) {
        Kind::Text => Ok(escape(&clean(value))),
        // The crate escapes backslash, comma, semicolon and line feed of each item as it joins
        // them; what it lets through are the other line ends and controls.
        Kind::TextList => Ok(clean(value).replace('\n', "\\n")),
        Kind::Raw if value.contains(char::is_control) => Err(Refused::ControlCharacter {
            property: property.key().to_owned(),
            value: value.to_owned(),
        }),
        Kind::Raw => Ok(value.to_owned()),
    }
}

/// The crate's table of types, plus the two texts of RFC 7986 that it lacks. What is in neither is
/// raw: refusing a control character is safe for a type that is not known.
fn kind(property: &Property) -> Kind {
    match property.key() {
        "CATEGORIES" | "RESOURCES" => Kind::TextList,
        "NAME" | "COLOR" => Kind::Text,
        "UID" => Kind::Raw,
        _ if property.value_type() == Some(ValueType::Text) => Kind::Text,
        _ => Kind::Raw,
    }
}

fn checked_name(name: &str) -> Result<&str, Refused> {
    let sound = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'-';
    if !name.is_empty() && name.bytes().all(sound) {
        Ok(name)
    } else {
        Err(Refused::Name { name: name.to_owned() })
    }
}

/// Every kind of line end as LF, and no other control character but the tab.
pub fn clean(text: &str) -> String {
    text.replace("\r\n", "\n")
        .chars()
        .map(|c| match c {
            '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => '\n',
            other => other,
        })
        .filter(|&c| c == '\n' || c == '\t' || !c.is_control())
        .collect()
}

/// A cleaned text as a TEXT value. Source: RFC5545, section 3.3.11.
fn escape(cleaned: &str) -> String {
    let mut escaped = String::with_capacity(cleaned.len());
    for c in cleaned.chars() {
        match c {
            '\\' | ';' | ',' => escaped.extend(['\\', c]),
            '\n' => escaped.push_str("\\n"),
            other => escaped.push(other),
        }
    }
    escaped
}

/// A parameter's value, which cannot hold quotes or line ends at all. Source: RFC5545, section 3.1.
fn parameter_value(value: &str) -> String {
    let cleaned = clean(value).replace('\n', " ").replace('"', "'");
    if cleaned.contains([':', ';', ',']) { format!("\"{cleaned}\"") } else { cleaned }
}

/// Folds by octets, never inside a character, and ends in CRLF. Source: RFC5545, section 3.1.
fn push_line(out: &mut String, line: &str) {
    let mut octets = 0;
    for c in line.chars() {
        if octets + c.len_utf8() > LONGEST_LINE_OCTETS {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use icalendar::{Event, EventLike};

    use super::*;

    fn line(name: &str, value: &str) -> Result<String, Refused> {
        let mut out = String::new();
        push_property(&mut out, &Property::new(name, value))?;
        Ok(out)
    }

    #[test]
    fn text_is_escaped_once() {
        // RFC5545, section 3.3.11: the four escapes of a text.
        assert_eq!(
            line("SUMMARY", "a,b;c\\d\ne:\"f\""),
            Ok("SUMMARY:a\\,b\\;c\\\\d\\ne:\"f\"\r\n".into())
        );
        let event = Event::new().categories(["x, y", "z\r\nw\\"]).done();
        let mut out = String::new();
        push_component(&mut out, &event).unwrap();
        assert!(out.contains("\r\nCATEGORIES:x\\, y,z\\n\\nw\\\\\r\n"), "{out}");
    }

    #[test]
    fn every_line_end_becomes_an_escaped_line_feed_and_controls_go() {
        let hostile = "a\r\nb\rc\u{85}d\u{2028}e\u{2029}f\u{b}g\u{c}h\0i\u{7}j\u{7f}k\u{9b}l\tm";
        let expected = "NAME:a\\nb\\nc\\nd\\ne\\nf\\ng\\nhijkl\tm\r\n";
        assert_eq!(line("NAME", hostile), Ok(expected.into()));
    }

    #[test]
    fn a_newline_starts_no_property() {
        for name in ["URL", "GEO", "UID", "SOURCE", "DTSTART", "SEQUENCE"] {
            for value in ["x\nMETHOD:CANCEL", "x\rMETHOD:CANCEL", "x\u{85}y", "x\0"] {
                assert!(
                    matches!(line(name, value), Err(Refused::ControlCharacter { .. })),
                    "{name} {value:?}"
                );
            }
        }
        for name in ["NAME", "COLOR", "X-WR-CALNAME", "SUMMARY"] {
            let written = line(name, "red\r\nMETHOD:CANCEL").unwrap();
            assert_eq!(written, format!("{name}:red\\nMETHOD:CANCEL\r\n"));
        }
        assert!(matches!(line("A\nB", ""), Err(Refused::Name { .. })));
        assert!(matches!(line("", ""), Err(Refused::Name { .. })));
    }

    #[test]
    fn a_parameter_cannot_leave_its_quotes() {
        let property = Property::new("LOCATION", "roof")
            .add_parameter("ALTREP", "a\":b\r\nMETHOD:X;\0")
            .done();
        let mut out = String::new();
        push_property(&mut out, &property).unwrap();
        assert_eq!(out, "LOCATION;ALTREP=\"a':b METHOD:X;\":roof\r\n");
    }

    #[test]
    fn folds_at_75_octets_and_never_inside_a_character() {
        let mut out = String::new();
        push_line(&mut out, &"a".repeat(75));
        assert_eq!(out, format!("{}\r\n", "a".repeat(75)));
        out.clear();
        push_line(&mut out, &"a".repeat(150));
        assert_eq!(out, format!("{}\r\n {}\r\n a\r\n", "a".repeat(75), "a".repeat(74)));
        out.clear();
        push_line(&mut out, &format!("{}\u{1f528}b", "a".repeat(72)));
        assert_eq!(out, format!("{}\r\n \u{1f528}b\r\n", "a".repeat(72)));
    }
}
