//! The calendar feed: validators, changes, and what two parsers of other makers read in it.

use axum::body::Body;
use axum::http::StatusCode;
use chrono::TimeDelta;
use fairseam::store::keys::Role;

use crate::calendar_read_back::read_with_calcard;
use crate::proof::{Allowed, Proof};
use crate::server_support::{Answer, NO_LIMITS, ROOF, Served, on_runtime, request, trial, uuid};

async fn conditional(served: &Served, path: &str, name: &str, value: &str) -> Answer {
    let asked = request("GET", path, None).header(name, value);
    served.send(asked.body(Body::empty()).unwrap()).await
}

#[test]
fn an_unchanged_feed_is_not_sent_twice() {
    let mut proof = Proof::of(
        "calendar/feed-conditions",
        "Whether a feed is sent again, by the tag or the date that a phone has",
        "RFC9110, sections 13.1.2 and 13.1.3, by hand",
        "requests",
        Allowed::Nothing,
    );
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) = served.key(Role::Feed, Some(ROOF)).await;
        let path = format!("/feeds/{ROOF}/{key}.ics");
        let whole = served.get(&path, "").await;
        assert_eq!(whole.status, StatusCode::OK);
        assert_eq!(whole.header("content-type"), "text/calendar; charset=utf-8");
        assert!(whole.header("cache-control").starts_with("private"));
        let tag = whole.header("etag").to_owned();
        let date = whole.header("last-modified").to_owned();
        // RFC9110, section 13.1.2: weak comparison, lists, any; 13.1.3: the date, unless there is a tag.
        for (name, value, status) in [
            ("if-none-match", tag.as_str(), 304),
            ("if-none-match", &format!("W/{tag}"), 304),
            ("if-none-match", &format!("\"other\", {tag}"), 304),
            ("if-none-match", "*", 304),
            ("if-none-match", "\"other\"", 200),
            ("if-none-match", "", 200),
            ("if-modified-since", date.as_str(), 304),
            ("if-modified-since", "Fri, 01 Jan 2100 00:00:00 GMT", 304),
            ("if-modified-since", "Thu, 01 Jan 1970 00:00:00 GMT", 200),
            ("if-modified-since", "yesterday", 200),
        ] {
            let answer = conditional(&served, &path, name, value).await;
            proof.same(&answer.status.as_u16(), &status, || format!("{name}: {value}"));
            assert_eq!(answer.text.is_empty(), status == 304, "{name}: {value}");
            assert_eq!(answer.header("etag"), tag);
        }
        let both = request("GET", &path, None)
            .header("if-none-match", "\"other\"")
            .header("if-modified-since", &date);
        assert_eq!(served.send(both.body(Body::empty()).unwrap()).await.status, StatusCode::OK);
        let head = request("HEAD", &path, None).body(Body::empty()).unwrap();
        let head = served.send(head).await;
        assert_eq!((head.status, head.text.as_str()), (StatusCode::OK, ""));
        assert_eq!(head.header("etag"), tag);
    });
    proof.done();
}

#[test]
fn a_change_of_the_plan_is_a_change_of_the_feed_and_only_of_what_changed() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) = served.key(Role::Feed, Some(ROOF)).await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let path = format!("/feeds/{ROOF}/{key}.ics");
        let before = served.get(&path, "").await;
        let (name, events) = read_with_calcard(&before.text);
        assert_eq!(name, "Test welds: Roof A");
        assert!(events.len() >= 3, "{events:?}");
        assert!(events.iter().all(|event| event.sequence == 0));
        served.set_clock("2027-04-21T13:31:00Z");
        // A sound trial of this morning: the tests to come start from its middle.
        served.post_trial(&crew, trial(&uuid(1), "J.").to_string()).await;
        let after = served.get(&path, "").await;
        assert_ne!(before.header("etag"), after.header("etag"));
        let (_, changed) = read_with_calcard(&after.text);
        assert_eq!(events.len(), changed.len());
        let mut moved = 0;
        for (old, new) in events.iter().zip(&changed) {
            assert_eq!(old.uid, new.uid);
            if (&old.summary, &old.description, &old.start)
                == (&new.summary, &new.description, &new.start)
            {
                assert_eq!((old.sequence, old.last_modified), (new.sequence, new.last_modified));
            } else {
                assert_eq!(new.sequence, 1, "{new:?}");
                assert!(new.last_modified > old.last_modified);
                moved += 1;
            }
        }
        assert!(moved > 0, "{}", after.text);
        let since =
            conditional(&served, &path, "if-modified-since", before.header("last-modified"));
        assert_eq!(since.await.status, StatusCode::OK);
    });
}

#[test]
fn two_parsers_of_other_makers_read_the_feed_alike() {
    let mut proof = Proof::of(
        "calendar/feed-python",
        "A feed as the server sends it, of a roof with a hostile name",
        "read alike by calcard and by the Python packages icalendar and vobject",
        "readings",
        Allowed::Nothing,
    )
    .when_installed(2);
    on_runtime(async {
        let hostile = r#""A; C, D: \"E\" \\ é🔨""#;
        let settings = fairseam::server::Settings {
            limits: NO_LIMITS,
            ..fairseam::server::Settings::default()
        };
        let served = Served::with(settings, hostile).await;
        let (_, key) = served.key(Role::Feed, Some(ROOF)).await;
        let text = served.get(&format!("/feeds/{ROOF}/{key}.ics"), "").await.text;
        // How often to come back. Source: RFC7986, section 5.7.
        assert!(text.contains("\r\nREFRESH-INTERVAL;VALUE=DURATION:PT15M\r\n"), "{text}");
        assert!(!text.contains("METHOD"), "{text}");
        let (name, events) = read_with_calcard(&text);
        assert!(name.starts_with("Test welds: A") && name.contains("\"E\" \\"), "{name}");
        for event in &events {
            let rings = event.alarms.iter().map(|at| event.start - *at);
            assert!(rings.into_iter().all(|before| before >= TimeDelta::zero()), "{event:?}");
        }
        crate::calendar_read_back::python_agrees(&mut proof, &text, &name, &events);
    });
    proof.done();
}
