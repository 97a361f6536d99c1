//! What comes over the network from those who mean no good, or whose connection is no good.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::time::{Duration, Instant};

use axum::body::Body;
use axum::http::{StatusCode, header};
use fairseam::server::{Limits, Listener, Settings, run};
use fairseam::store::keys::{Role, Secret};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::Value;

use crate::server_support::{NO_LIMITS, ROOF, Served, on_runtime, request, trial, uuid};

/// The server at a port of its own, until `test` is through.
async fn at_a_port(served: &Served, test: impl FnOnce(SocketAddr) + Send + 'static) {
    let listener = Listener::bind(([127, 0, 0, 1], 0).into(), None).await.unwrap();
    let address = listener.address();
    let (tell, told) = tokio::sync::oneshot::channel::<()>();
    let server = tokio::spawn(run(served.app.clone(), listener, async {
        let _ = told.await;
    }));
    tokio::task::spawn_blocking(move || test(address)).await.unwrap();
    tell.send(()).unwrap();
    tokio::time::timeout(Duration::from_secs(15), server).await.unwrap().unwrap();
}

/// Sends bytes as they are; everything that comes back until the server hangs up.
fn raw(address: SocketAddr, bytes: &[u8]) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    stream.write_all(bytes).unwrap();
    rest(&mut stream)
}

fn rest(stream: &mut TcpStream) -> String {
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

#[test]
fn no_path_leads_out_of_the_program() {
    on_runtime(async {
        let served = Served::start().await;
        at_a_port(&served, |address| {
            let mut tried = 0;
            for below in ["/assets/", "/feeds/roof-a/", "/crew/", "/office/", "/"] {
                for out in [
                    "../Cargo.toml",
                    "../../../../etc/passwd",
                    "..%2f..%2fetc%2fpasswd",
                    "%2e%2e/%2e%2e/etc/passwd",
                    "..\\..\\windows\\win.ini",
                    "....//etc/passwd",
                    "/etc/passwd",
                    "%00",
                    "a%0d%0aSet-Cookie:%20x=1",
                    "office.css/../../keys.sqlite3",
                ] {
                    let asked = format!(
                        "GET {below}{out} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
                    );
                    let answer = raw(address, asked.as_bytes());
                    let status = answer.split(' ').nth(1).unwrap_or_default();
                    assert!(["303", "400", "401", "404"].contains(&status), "{asked}: {answer}");
                    assert!(!answer.contains("root:") && !answer.contains("[package]"), "{answer}");
                    let head = answer.split("\r\n\r\n").next().unwrap_or_default();
                    assert!(!head.contains("x=1"), "{asked}: {answer}");
                    tried += 1;
                }
            }
            assert_eq!(tried, 50);
        })
        .await;
    });
}

#[test]
fn what_a_crew_writes_stays_text_on_every_page() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let (_, office) = served.key(Role::Office, None).await;
        let hostile = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>&lt;";
        let mut sent = trial(&uuid(1), hostile);
        for key in ["lot", "roll", "note", "weights", "air_flow"] {
            sent[key] = hostile.into();
        }
        sent["checkpoint"] = "\"><b>".into();
        let answer = served.post_trial(&crew, sent.to_string()).await;
        assert_eq!(answer.status, StatusCode::CREATED, "{}", answer.text);
        for path in [
            "/office/",
            "/office/roof-a/",
            "/office/roof-a/book",
            "/office/roof-a/book/1",
            "/crew/roof-a/",
        ] {
            let page = served.get(path, &office).await;
            assert_eq!(page.status, StatusCode::OK, "{path}");
            for broken_out in ["<script>alert", "<img src=x", "\"><b>", "onerror=alert(2)>"] {
                assert!(!page.text.contains(broken_out), "{path} has {broken_out}");
            }
        }
        let page = served.get("/office/roof-a/book/1", &office).await.text;
        assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"), "the text is gone: {page}");
        // A form whose correction is refused writes back what was typed.
        let form = format!("why={0}&who={0}", "%22%3E%3Cscript%3Ealert(3)%3C/script%3E");
        let refused = request("POST", "/office/roof-a/book/1", Some(&office));
        let refused = served.send(refused.body(Body::from(form)).unwrap()).await;
        assert!(!refused.text.contains("<script>alert(3)"), "{}", refused.text);
    });
}

#[test]
fn what_is_too_long_or_of_another_kind_is_refused_before_it_is_read() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let long = format!("{{\"note\":\"{}\"}}", "x".repeat(2 << 20));
        let answer = served.post_trial(&crew, long.clone()).await;
        assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE, "{}", answer.text);
        let form = request("POST", "/enter", None).body(Body::from(format!("key={long}"))).unwrap();
        assert_eq!(served.send(form).await.status, StatusCode::PAYLOAD_TOO_LARGE);
        for kind in ["text/plain", "application/x-www-form-urlencoded", ""] {
            let asked = request("POST", "/crew/roof-a/trials", Some(&crew))
                .header(header::CONTENT_TYPE, kind);
            let answer = served.send(asked.body(Body::from("{}")).unwrap()).await;
            assert_eq!(answer.status, StatusCode::UNSUPPORTED_MEDIA_TYPE, "{kind}");
        }
        // Nested a hundred thousand deep: refused by the reader, not by the end of the stack.
        let deep = "[".repeat(100_000);
        assert_eq!(served.post_trial(&crew, deep).await.status, StatusCode::UNPROCESSABLE_ENTITY);
        let long_head = "x".repeat(64 << 10);
        at_a_port(&served, move |address| {
            let asked = format!("GET /enter HTTP/1.1\r\nHost: x\r\nX-Long: {long_head}\r\n\r\n");
            let answer = raw(address, asked.as_bytes());
            assert!(answer.starts_with("HTTP/1.1 431") || answer.is_empty(), "{answer}");
        })
        .await;
    });
}

#[test]
fn whoever_is_slow_on_purpose_is_let_go() {
    on_runtime(async {
        let settings = Settings {
            limits: NO_LIMITS,
            patience: Duration::from_millis(600),
            head_patience: Duration::from_millis(600),
            ..Settings::default()
        };
        let served = Served::with(settings, "\"Roof A\"").await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        at_a_port(&served, move |address| {
            // A head that never ends, a connection that never asks, a body that never comes.
            let body = format!(
                "POST /crew/roof-a/trials HTTP/1.1\r\nHost: x\r\nCookie: fairseam-key={crew}\r\n\
                 Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n{{"
            );
            for (bytes, expected) in
                [("GET /enter HTTP/1.1\r\nHost:", ""), ("", ""), (&body, "HTTP/1.1 408")]
            {
                let started = Instant::now();
                let answer = raw(address, bytes.as_bytes());
                let took = started.elapsed();
                assert!(took < Duration::from_secs(5), "{bytes:?} held the server for {took:?}");
                assert!(took > Duration::from_millis(400), "{bytes:?}: {took:?}: {answer}");
                let expected = answer.starts_with(expected) || answer.starts_with("HTTP/1.1 408");
                assert!(expected, "{bytes:?}: {answer}");
            }
            // Between two requests a connection may keep still for as long, and no longer.
            let mut stream = TcpStream::connect(address).unwrap();
            stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
            stream.write_all(b"GET /healthz HTTP/1.1\r\nHost: x\r\n\r\n").unwrap();
            let started = Instant::now();
            let answer = rest(&mut stream);
            assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
            assert!(started.elapsed() < Duration::from_secs(5), "{:?}", started.elapsed());
        })
        .await;
    });
}

#[test]
fn ten_thousand_bad_keys_cost_little_and_lock_nobody_out() {
    on_runtime(async {
        let served = Served::with(
            Settings {
                limits: Limits { per_address: None, per_key: None, ..Limits::default() },
                ..Settings::default()
            },
            "\"Roof A\"",
        )
        .await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        // A running server reads its keys again every two seconds: the right one is at hand by then.
        let listener = Listener::bind(([127, 0, 0, 1], 0).into(), None).await.unwrap();
        let (tell, told) = tokio::sync::oneshot::channel::<()>();
        let server = tokio::spawn(run(served.app.clone(), listener, async {
            let _ = told.await;
        }));
        tokio::time::sleep(Duration::from_secs(4)).await;
        assert_eq!(served.get("/crew/roof-a/day.json", &crew).await.status, StatusCode::OK);
        let started = Instant::now();
        let (mut unknown, mut too_often) = (0, 0);
        for _ in 0..10_000 {
            let answer =
                served.get("/crew/roof-a/day.json", &Secret::make().unwrap().shown()).await;
            match answer.status {
                StatusCode::UNAUTHORIZED => unknown += 1,
                StatusCode::TOO_MANY_REQUESTS => {
                    assert_eq!(answer.header("retry-after"), "60");
                    too_often += 1;
                }
                other => panic!("{other}: {}", answer.text),
            }
        }
        let took = started.elapsed();
        // Ten at once, then one every six seconds.
        let most = 11 + took.as_secs() / 6;
        assert!(unknown <= most, "{unknown} of the bad keys were looked up in {took:?}");
        assert_eq!(unknown + too_often, 10_000);
        assert!(took < Duration::from_secs(120), "{took:?}");
        let feed = served.get("/feeds/roof-a/nonsense.ics", "").await;
        assert_eq!(feed.status, StatusCode::TOO_MANY_REQUESTS);
        // Right keys come through from the very same address.
        assert_eq!(served.get("/crew/roof-a/day.json", &crew).await.status, StatusCode::OK);
        tell.send(()).unwrap();
        server.await.unwrap();
    });
}

#[test]
fn a_key_and_an_address_can_ask_only_so_often() {
    on_runtime(async {
        let limits = Limits { per_key: std::num::NonZeroU32::new(5), ..NO_LIMITS };
        let served = Served::with(Settings { limits, ..Settings::default() }, "\"Roof A\"").await;
        let (_, one) = served.key(Role::Crew, Some(ROOF)).await;
        let (_, other) = served.key(Role::Crew, Some(ROOF)).await;
        let mut states = Vec::new();
        for _ in 0..7 {
            states.push(served.get("/crew/roof-a/day.json", &one).await.status.as_u16());
        }
        assert_eq!(states, [200, 200, 200, 200, 200, 429, 429]);
        assert_eq!(served.get("/crew/roof-a/day.json", &other).await.status, StatusCode::OK);
    });
}

/// A JSON value that a fuzzer may put anywhere.
fn any_value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        prop::num::f64::ANY.prop_map(|number| serde_json::json!(number)),
        prop_oneof![Just(1e308), Just(-1e308), Just(5e-324)].prop_map(Value::from),
        any::<String>().prop_map(Value::from),
        "[\\x00-\\x1f<>\"'&%\u{202e}]{0,12}".prop_map(Value::from),
    ];
    leaf.prop_recursive(3, 24, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::btree_map("[a-z_]{0,8}", inner, 0..6)
                .prop_map(|map| Value::Object(map.into_iter().collect())),
        ]
    })
}

/// A body: any bytes, any JSON, a sound trial, or one with one value replaced.
fn any_body() -> impl Strategy<Value = Vec<u8>> {
    let sound = trial(&uuid(1), "J.");
    let keys: Vec<String> = sound.as_object().unwrap().keys().cloned().collect();
    let extra = ["units", "kind", "polymer", "thickness", "ran", "note", "sheet_temperature"];
    let keys: Vec<String> = keys.into_iter().chain(extra.map(str::to_owned)).collect();
    let bent = (prop::sample::select(keys), any_value(), any::<u32>()).prop_map(
        move |(key, value, number)| {
            let mut bent = trial(&uuid(number), "J.");
            bent[key] = value;
            bent.to_string().into_bytes()
        },
    );
    let strip = (any_value(), any::<u32>(), 0_usize..4, 0_usize..3, any::<bool>()).prop_map(
        |(value, number, heat, strip, whole)| {
            let mut bent = trial(&uuid(number), "J.");
            let place = &mut bent["heats"][heat];
            if whole {
                place["heat"] = value;
            } else {
                place["strips"][strip]["width"] = value;
            }
            bent.to_string().into_bytes()
        },
    );
    prop_oneof![
        1 => prop::collection::vec(any::<u8>(), 0..300),
        1 => any_value().prop_map(|value| value.to_string().into_bytes()),
        3 => bent,
        3 => strip,
        1 => any::<u32>().prop_map(|number| trial(&uuid(number), "J.").to_string().into_bytes()),
    ]
}

#[test]
fn no_body_makes_the_server_fail() {
    let runtime =
        tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
    let served = runtime.block_on(Served::start());
    let (_, crew) = runtime.block_on(served.key(Role::Crew, Some(ROOF)));
    let (_, office) = runtime.block_on(served.key(Role::Office, None));
    runtime.block_on(served.post_trial(&crew, trial(&uuid(1), "J.").to_string()));
    let targets = [
        ("/crew/roof-a/trials", &crew, "application/json"),
        ("/office/roof-a/book/1", &office, "application/x-www-form-urlencoded"),
        ("/enter", &crew, "application/x-www-form-urlencoded"),
    ];
    let seen = std::cell::RefCell::new(std::collections::BTreeSet::new());
    let config = Config { cases: 150, failure_persistence: None, ..Config::default() };
    // The same bodies every time.
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    runner
        .run(&any_body(), |body| {
            for (path, key, kind) in targets {
                let asked = request("POST", path, Some(key)).header(header::CONTENT_TYPE, kind);
                let asked = asked.body(Body::from(body.clone())).unwrap();
                let answer = runtime.block_on(served.send(asked));
                seen.borrow_mut().insert(answer.status.as_u16());
                prop_assert!(!answer.status.is_server_error(), "{path}: {}", answer.text);
            }
            Ok(())
        })
        .unwrap();
    // The hard region is reached: some bodies are taken in, some refused.
    let seen = seen.into_inner();
    assert!(seen.contains(&422) && seen.contains(&201), "{seen:?}");
    // And whatever was taken in can be shown.
    for path in ["/office/roof-a/book", "/office/roof-a/", "/crew/roof-a/day.json"] {
        let page = runtime.block_on(served.get(path, &office));
        assert_eq!(page.status, StatusCode::OK, "{path}: {}", page.text);
    }
}
