//! All that waits for a calendar server.

use chrono::{DateTime, Utc};

use super::Collection;
use super::client::Client;
use super::push::{NotPushed, push};
use crate::publish::backoff;
use crate::store::follow::{FollowFault, FollowStore, Outgoing};

/// What one go came to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sent {
    /// How many events the server has taken.
    pub done: usize,
    /// What was done, for the log.
    pub lines: Vec<String>,
    /// What could not be, in one sentence.
    pub fault: Option<String>,
}

/// Sends what of a site waits for `collection`; what cannot be sent waits on, longer each time.
///
/// # Errors
/// Where the record of what waits cannot be read or written.
pub async fn send(
    store: &FollowStore,
    collection: &Collection,
    site_key: &str,
    now: DateTime<Utc>,
) -> Result<Sent, FollowFault> {
    let waiting = store.outgoing(site_key, now).await?;
    let address = collection.address();
    let waiting: Vec<Outgoing> =
        waiting.into_iter().filter(|event| event.collection == address).collect();
    let mut sent = Sent::default();
    if waiting.is_empty() {
        return Ok(sent);
    }
    let client = match Client::new(collection) {
        Ok(client) => client,
        Err(why) => {
            sent.fault = Some(format!("no way to the calendar server: {why}"));
            return Ok(sent);
        }
    };
    let mut down = None;
    for event in &waiting {
        let later = now + backoff::after(event.tries + 1);
        if down.is_some() {
            store.put_off(event, later).await?;
            continue;
        }
        match push(&client, event).await {
            Ok(pushed) => {
                store.sent(event, &pushed.href, pushed.sequence, pushed.etag.as_deref()).await?;
                sent.done += 1;
                if pushed.found {
                    sent.lines.push(format!(
                        "server: {} lay at another address there, {}; it is kept there",
                        event.uid, pushed.href
                    ));
                }
                if pushed.resolved {
                    sent.lines.push(format!(
                        "server: {} had been changed there; our version stands",
                        event.uid
                    ));
                }
            }
            Err(NotPushed::Unreachable(why)) => {
                store.put_off(event, later).await?;
                down = Some(why);
            }
            Err(NotPushed::Refused(why)) => {
                store.put_off(event, later).await?;
                sent.fault =
                    Some(format!("the calendar server refuses {}: {why}; it waits", event.uid));
            }
        }
    }
    if sent.done > 0 {
        let (done, of) = (sent.done, waiting.len());
        sent.lines.push(format!("server: {done} of {of} events taken"));
    }
    if let Some(why) = down {
        sent.fault = Some(format!("the calendar server takes nothing: {why}; it waits"));
    }
    Ok(sent)
}
