//! What a server holds, as far as it decides whose it is: UID and SEQUENCE of its event.

/// An event as a server holds it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Found {
    /// Its UID, where it has one.
    pub uid: Option<String>,
    /// Its SEQUENCE; 0 where it has none. Source: RFC5545, section 3.8.7.4.
    pub sequence: u32,
}

/// Reads the first event of a calendar object. What cannot be read has no UID and so is not ours.
pub fn found(body: &str) -> Found {
    let unfolded = body.replace("\r\n", "\n").replace("\n ", "").replace("\n\t", "");
    let mut found = Found::default();
    let mut inside: Vec<String> = Vec::new();
    for line in unfolded.lines() {
        let Some((name, value)) = line.split_once(':') else { continue };
        let name = name.split(';').next().unwrap_or_default().to_ascii_uppercase();
        match name.as_str() {
            "BEGIN" => inside.push(value.trim().to_ascii_uppercase()),
            "END" => {
                let ended = inside.pop();
                if ended.as_deref() == Some("VEVENT") {
                    return found;
                }
            }
            // Not those of its alarms.
            "UID" if is_event(&inside) => found.uid = Some(value.trim().to_owned()),
            "SEQUENCE" if is_event(&inside) => {
                found.sequence = value.trim().parse().unwrap_or_default();
            }
            _ => {}
        }
    }
    found
}

fn is_event(inside: &[String]) -> bool {
    inside.last().is_some_and(|component| component == "VEVENT")
}

/// A calendar object of our own with another SEQUENCE.
pub fn with_sequence(body: &str, sequence: u32) -> String {
    let line = |line: &str| {
        if line.starts_with("SEQUENCE:") { format!("SEQUENCE:{sequence}") } else { line.to_owned() }
    };
    body.split("\r\n").map(line).collect::<Vec<_>>().join("\r\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_event_is_read_and_not_its_alarms() {
        let body = "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID;X=1:fair\r\n seam-1\r\nSEQUENCE:7\r\n\
            BEGIN:VALARM\r\nUID:alarm\r\nEND:VALARM\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
        let event = Found { uid: Some("fairseam-1".to_owned()), sequence: 7 };
        assert_eq!(found(body), event);
        assert_eq!(found(&with_sequence(body, 12)).sequence, 12);
        for broken in ["", "BEGIN:VEVENT", "<html>", "UID:x", "\u{0}:\u{0}", ":::\n :"] {
            assert_eq!(found(broken).uid, None, "{broken:?}");
        }
    }
}
