//! Who may ask what: every row of the table of routes, with every kind of key that must not open it.

use axum::body::Body;
use axum::http::{StatusCode, header};
use chrono::TimeDelta;
use fairseam::server::{Access, ROUTES, Route, Shape};
use fairseam::store::keys::{Role, Secret};

use crate::server_support::{Answer, OTHER, ROOF, Served, on_runtime, request, trial, uuid};

/// An address of that row, for the roof of the test.
fn address(route: &Route, feed_key: &str) -> String {
    route
        .path
        .replace("{site}", ROOF)
        .replace("{file}", &format!("{feed_key}.ics"))
        .replace("{trial}", "1")
        .replace("{name}", "office.css")
}

async fn ask(served: &Served, route: &Route, key: Option<&str>) -> Answer {
    let path = address(route, key.unwrap_or("none"));
    let key = key.filter(|_| route.access != Access::Feed);
    let asked =
        request(route.method.as_str(), &path, key).header(header::CONTENT_TYPE, "application/json");
    served.send(asked.body(Body::from("{}")).unwrap()).await
}

/// The routes that need no key, by hand: a new one has to be put here by somebody who means it.
const OPEN: [&str; 8] = [
    "GET /",
    "GET /healthz",
    "GET /enter",
    "POST /enter",
    "POST /leave",
    "GET /assets/{name}",
    "GET /crew/worker.js",
    "GET /crew/manifest.webmanifest",
];

#[test]
fn the_routes_without_a_key_are_these_and_no_others() {
    let open = ROUTES.iter().filter(|route| route.access == Access::Open);
    let open: Vec<String> = open.map(|route| format!("{} {}", route.method, route.path)).collect();
    assert_eq!(open, OPEN);
}

#[test]
fn no_route_opens_to_a_key_that_is_none() {
    on_runtime(async {
        let served = Served::start().await;
        let mut tried = 0;
        for route in ROUTES.iter().filter(|route| route.access != Access::Open) {
            let own_site = match route.access {
                Access::Office => None,
                _ => Some(ROOF),
            };
            let role = match route.access {
                Access::Office => Role::Office,
                Access::Feed => Role::Feed,
                _ => Role::Crew,
            };
            // Each of them would open the route if nothing were wrong with it.
            let (revoked, revoked_key) = served.key(role, own_site).await;
            served.revoke(&revoked).await;
            let hour = TimeDelta::hours(1);
            let (_, expired_key) = served.key_of(role, own_site, "late", -hour).await;
            let unknown = Secret::make().unwrap().shown();
            let hash = revoked_key.chars().rev().collect::<String>();
            let bad = [&unknown, &revoked_key, &expired_key, &hash, "", "../../etc/passwd", "%00"];
            for key in bad.into_iter().map(Some).chain([None]) {
                let path = address(route, key.unwrap_or("none"));
                if path.parse::<axum::http::Uri>().is_err() {
                    continue;
                }
                let answer = ask(&served, route, key).await;
                let expected = match (route.access, route.shape, key) {
                    (Access::Feed, ..) => StatusCode::NOT_FOUND,
                    // Nobody has gone wrong who has merely not come in yet.
                    (_, Shape::Page, None) => StatusCode::SEE_OTHER,
                    _ => StatusCode::UNAUTHORIZED,
                };
                let said = format!("{} {} with {key:?}", route.method, route.path);
                assert_eq!(answer.status, expected, "{said}: {}", answer.text);
                tried += 1;
            }
        }
        assert!(tried > 80, "{tried}: is the table still walked?");
    });
}

/// Whether a valid key opens a route, by hand from what each role may do: crew (their site: read,
/// record), office (all: read, record, correct), feed (read one calendar).
fn may(role: Role, own_site: bool, route: &Route) -> bool {
    let path = route.path;
    match role {
        Role::Office => path.starts_with("/office/") || path.starts_with("/crew/"),
        Role::Crew => path == "/crew/" || (path.starts_with("/crew/") && own_site),
        Role::Feed => path.starts_with("/feeds/") && own_site,
    }
}

#[test]
fn every_key_opens_what_its_role_may_and_nothing_else() {
    on_runtime(async {
        let served = Served::start().await;
        let keys = [
            (Role::Crew, Some(ROOF)),
            (Role::Crew, Some(OTHER)),
            (Role::Feed, Some(ROOF)),
            (Role::Feed, Some(OTHER)),
            (Role::Office, None),
        ];
        let (mut opened, mut shut) = (0, 0);
        for (role, site) in keys {
            let (_, key) = served.key(role, site).await;
            for route in ROUTES.iter().filter(|route| route.access != Access::Open) {
                // An event stream has no end to wait for; its door is tried with a key that is shut.
                let may = may(role, site == Some(ROOF), route);
                if may && route.path.ends_with("/events") {
                    continue;
                }
                let answer = ask(&served, route, Some(&key)).await;
                let said = format!("{role:?} of {site:?}: {} {}", route.method, route.path);
                if may {
                    // What lies behind the door may be wrong or missing; the door is open.
                    let open = ![401, 403, 429].contains(&answer.status.as_u16());
                    assert!(open, "{said}: {}", answer.status);
                    assert!(!answer.status.is_server_error(), "{said}: {}", answer.text);
                    opened += 1;
                } else {
                    let expected = match route.access {
                        Access::Feed => StatusCode::NOT_FOUND,
                        _ => StatusCode::FORBIDDEN,
                    };
                    assert_eq!(answer.status, expected, "{said}: {}", answer.text);
                    shut += 1;
                }
            }
        }
        assert!(opened > 15 && shut > 25, "{opened} open, {shut} shut");
    });
}

#[test]
fn whoever_may_not_see_a_site_is_not_told_whether_there_is_one() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let (_, feed) = served.key(Role::Feed, Some(ROOF)).await;
        for path in ["/crew/SITE/day.json", "/office/SITE/", "/office/SITE/book"] {
            let there = served.get(&path.replace("SITE", OTHER), &crew).await;
            let not_there = served.get(&path.replace("SITE", "no-such-roof"), &crew).await;
            assert_eq!((there.status, &there.text), (not_there.status, &not_there.text), "{path}");
        }
        let there = served.get(&format!("/feeds/{OTHER}/{feed}.ics"), "").await;
        let not_there = served.get(&format!("/feeds/no-such-roof/{feed}.ics"), "").await;
        assert_eq!((there.status, there.text), (not_there.status, not_there.text));
    });
}

#[test]
fn a_key_comes_in_by_the_form_and_goes_out_as_a_cookie_that_no_script_reads() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let (_, office) = served.key(Role::Office, None).await;
        let (_, feed) = served.key(Role::Feed, Some(ROOF)).await;
        let enter = async |key: &str| {
            let form = format!("key={key}");
            served.send(request("POST", "/enter", None).body(Body::from(form)).unwrap()).await
        };
        for (key, home) in [(&crew, "/crew/roof-a/"), (&office, "/office/")] {
            let answer = enter(key).await;
            assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
            assert_eq!(answer.header("location"), home);
            let cookie = answer.header("set-cookie");
            for part in
                [&format!("fairseam-key={key};"), "; HttpOnly", "; SameSite=Strict", "; Path=/"]
            {
                assert!(cookie.contains(part), "{cookie} lacks {part}");
            }
            // Ten days, as the key is good for.
            assert!(cookie.contains("Max-Age=864000"), "{cookie}");
            let inside = served.get(home, key).await;
            assert_eq!(inside.status, StatusCode::OK, "{}", inside.text);
        }
        assert_eq!(enter(&feed).await.status, StatusCode::FORBIDDEN);
        let wrong = enter("nonsense").await;
        assert_eq!(wrong.status, StatusCode::UNAUTHORIZED);
        assert!(wrong.header("set-cookie").is_empty());
        assert!(!wrong.text.contains("nonsense"), "the key is written back");
        let gone = served.send(request("POST", "/leave", Some(&crew)).body(Body::empty()).unwrap());
        assert!(gone.await.header("set-cookie").contains("Max-Age=0"));
    });
}

#[test]
fn a_key_stops_opening_when_its_days_are_over_and_when_it_is_taken_back() {
    on_runtime(async {
        let served = Served::start().await;
        let (key, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let (_, other) = served.key(Role::Crew, Some(ROOF)).await;
        let path = format!("/crew/{ROOF}/day.json");
        assert_eq!(served.get(&path, &crew).await.status, StatusCode::OK);
        served.revoke(&key).await;
        assert_eq!(served.get(&path, &crew).await.status, StatusCode::UNAUTHORIZED);
        assert_eq!(served.get(&path, &other).await.status, StatusCode::OK);
        // Ten days from half past eight, to the second.
        served.set_clock("2027-05-01T13:29:59Z");
        assert_ne!(served.get(&path, &other).await.status, StatusCode::UNAUTHORIZED);
        served.set_clock("2027-05-01T13:30:00Z");
        assert_eq!(served.get(&path, &other).await.status, StatusCode::UNAUTHORIZED);
    });
}

#[test]
fn what_another_site_has_a_browser_send_is_refused() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let body = trial(&uuid(1), "J.").to_string();
        for (name, value, status) in [
            ("origin", "https://evil.example", 403),
            ("origin", "null", 403),
            ("sec-fetch-site", "cross-site", 403),
            ("sec-fetch-site", "same-site", 403),
            ("sec-fetch-site", "same-origin", 201),
            ("origin", "http://welds.example", 200),
        ] {
            let asked = request("POST", &format!("/crew/{ROOF}/trials"), Some(&crew))
                .header(header::CONTENT_TYPE, "application/json")
                .header(header::HOST, "welds.example")
                .header(name, value);
            let answer = served.send(asked.body(Body::from(body.clone())).unwrap()).await;
            assert_eq!(answer.status.as_u16(), status, "{name}: {value}: {}", answer.text);
        }
    });
}

#[test]
fn every_answer_says_what_a_browser_may_do_with_it() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, office) = served.key(Role::Office, None).await;
        for path in [
            "/office/",
            "/enter",
            "/nowhere",
            "/office/roof-a/",
            "/office/roof-a/book",
            "/assets/office.css",
            "/crew/roof-a/",
            "/healthz",
            "/office/outlook",
        ] {
            let answer = served.get(path, &office).await;
            let policy = answer.header("content-security-policy");
            assert!(policy.starts_with("default-src 'none'"), "{path}: {policy}");
            let scripts = policy.split(';').find(|part| part.trim().starts_with("script-src"));
            assert!(
                scripts.is_none_or(|part| part.trim() == "script-src 'self'"),
                "{path}: {policy}"
            );
            assert!(policy.contains("frame-ancestors 'none'"), "{path}: {policy}");
            assert_eq!(answer.header("x-content-type-options"), "nosniff", "{path}");
            assert_eq!(answer.header("referrer-policy"), "same-origin", "{path}");
            assert!(!answer.header("x-request-id").is_empty(), "{path}");
            // A policy without inline script is only worth what the pages keep to.
            assert!(!answer.text.contains(" onclick="), "{path}");
            for script in answer.text.split("<script").skip(1) {
                let is_data = script.starts_with(" type=\"application/json\" id=");
                let is_ours = script.starts_with(" src=\"/assets/");
                assert!(is_ours || is_data, "{path}: <script{script}");
            }
        }
    });
}
