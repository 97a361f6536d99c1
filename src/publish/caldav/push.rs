//! One event brought over to a calendar server.

use reqwest::StatusCode;

use super::client::{Answer, Client, Only};
use super::elsewhere::{Place, UidConflict, hrefs, uid_conflict};
use super::object::{found, with_sequence};
use crate::store::follow::Outgoing;

/// How often a conflict is looked into in one go: whoever edits at the same time comes to rest.
const ROUNDS: u32 = 4;

/// An event that the server holds now.
pub(super) struct Pushed {
    pub(super) href: String,
    pub(super) sequence: u32,
    pub(super) etag: Option<String>,
    /// Somebody else had changed it, and our version stands now.
    pub(super) resolved: bool,
    /// It lay at another address, and is kept there from now on.
    pub(super) found: bool,
}

/// Why it does not.
pub(super) enum NotPushed {
    /// The server cannot be reached: there is no use in trying the other events.
    Unreachable(String),
    /// The server refuses this event.
    Refused(String),
}

/// Brings `event` over.
///
/// A new one is written only where nothing is (`If-None-Match: *`), a known one only where it is as
/// we left it (`If-Match`). Where that fails, the server's event is read: one with our UID is ours, and our
/// version goes over it with a higher SEQUENCE; one with another UID is not, and is left alone. A server
/// that has our UID at another address is asked where: there it is written over in the same way.
pub(super) async fn push(client: &Client<'_>, event: &Outgoing) -> Result<Pushed, NotPushed> {
    let mut href = event.href.clone();
    let mut etag = event.etag.clone().filter(|_| event.is_known);
    let mut floor = event.is_known.then_some(event.sequence);
    let (mut resolved, mut found_there) = (false, false);
    if event.is_known && etag.is_none() {
        // A server may keep its mark to itself when it writes; then it has to be asked for.
        let answer = get(client, &href).await?;
        etag = answer.etag.filter(|_| answer.status.is_success());
    }
    for round in 0..ROUNDS {
        let sequence = sequence_above(&event.wanted, floor);
        let body = with_sequence(&event.wanted, sequence);
        let only = etag.as_deref().map_or(Only::New, Only::Unchanged);
        let answer = client.put(&href, body, &only).await.map_err(NotPushed::Unreachable)?;
        match answer.status {
            status if status.is_success() => {
                let etag = answer.etag;
                return Ok(Pushed { href, sequence, etag, resolved, found: found_there });
            }
            StatusCode::PRECONDITION_FAILED => {}
            status => {
                let conflict = conflict(status, &answer.body).filter(|_| !found_there);
                let conflict = conflict.ok_or_else(|| refused(status, &answer.body))?;
                let there = find(client, event, conflict).await?;
                (href, etag, found_there) = (there.href, Some(there.etag), true);
                floor = Some(there.sequence.max(floor.unwrap_or(0)));
                continue;
            }
        }
        let held = get(client, &href).await?;
        if !held.status.is_success() {
            // Somebody has deleted it: it is written anew.
            etag = None;
            continue;
        }
        let theirs = found(&held.body);
        if theirs.uid.as_deref() == Some(event.uid.as_str()) {
            resolved = true;
            floor = Some(theirs.sequence.max(floor.unwrap_or(0)));
            etag = held.etag;
        } else {
            // Not ours: ours gets another address.
            href = format!("{}-{}.ics", event.href.trim_end_matches(".ics"), round + 1);
            etag = None;
        }
    }
    Err(NotPushed::Refused("its event kept changing while it was written".to_owned()))
}

/// An event of ours at an address that is not.
struct There {
    href: String,
    etag: String,
    sequence: u32,
}

/// What the server says of an event of the same UID: a conflict, or what it forbids for good. Source:
/// RFC4791, section 1.3.
fn conflict(status: StatusCode, body: &str) -> Option<UidConflict> {
    matches!(status, StatusCode::CONFLICT | StatusCode::FORBIDDEN)
        .then(|| uid_conflict(body))
        .flatten()
}

/// Looks where the server says, or else asks it where; only an event of our UID in our own calendar will
/// do.
async fn find(
    client: &Client<'_>,
    event: &Outgoing,
    conflict: UidConflict,
) -> Result<There, NotPushed> {
    let named = match conflict.href {
        Some(href) => vec![href],
        None => {
            let answer = client.find(&event.uid).await.map_err(NotPushed::Unreachable)?;
            // What answers in many parts has said so: 207. Source: RFC4918, section 11.1.
            let is_answer = answer.status == StatusCode::MULTI_STATUS;
            if is_answer { hrefs(&answer.body) } else { Vec::new() }
        }
    };
    let mut outside = None;
    for href in named {
        let href = match client.place(&href) {
            Place::Inside(href) => href,
            Place::Outside(told) => {
                outside = Some(told);
                continue;
            }
        };
        let held = get(client, &href).await?;
        let theirs = found(&held.body);
        if !held.status.is_success() || theirs.uid.as_deref() != Some(event.uid.as_str()) {
            continue;
        }
        let etag = held.etag.ok_or_else(|| {
            NotPushed::Refused(format!(
                "it has the event of this UID at {href} and gives no ETag, so that nothing can be \
                 written over it safely: delete that one"
            ))
        })?;
        return Ok(There { href, etag, sequence: theirs.sequence });
    }
    Err(NotPushed::Refused(match outside {
        Some(told) => format!(
            "it has an event of the same UID in another calendar, at {told}: delete that one"
        ),
        None => {
            "it has an event of the same UID at another address and does not say where: delete \
                 that one"
                .to_owned()
        }
    }))
}

async fn get(client: &Client<'_>, href: &str) -> Result<Answer, NotPushed> {
    client.get(href).await.map_err(NotPushed::Unreachable)
}

/// Our own SEQUENCE, or the one above what the server has seen.
fn sequence_above(body: &str, floor: Option<u32>) -> u32 {
    let ours = found(body).sequence;
    floor.map_or(ours, |floor| ours.max(floor.saturating_add(1).min(i32::MAX as u32)))
}

fn refused(status: StatusCode, body: &str) -> NotPushed {
    let is_conflict = conflict(status, body).is_some();
    let what = match status.as_u16() {
        401 => "it does not know this user and password".to_owned(),
        403 if !is_conflict => "this user may not write there".to_owned(),
        404 | 409 if !is_conflict => {
            "there is no such calendar: make it, or look at `publish.caldav`".to_owned()
        }
        403 | 409 => {
            "it has an event of the same UID at another address: delete that one".to_owned()
        }
        301 | 302 | 303 | 307 | 308 => {
            "it points elsewhere, and the password does not follow: write the new address into \
             `publish.caldav`"
                .to_owned()
        }
        other => format!("it answers with status {other}"),
    };
    // Trouble with the whole calendar is no matter of one event.
    match status.as_u16() {
        401 | 404 | 429 | 300..=399 | 500..=599 => NotPushed::Unreachable(what),
        403 | 409 if !is_conflict => NotPushed::Unreachable(what),
        _ => NotPushed::Refused(what),
    }
}
