//! Test welds that come in over the network: once, in the holder's name, seen at once by everybody.

use axum::body::Body;
use axum::http::{StatusCode, header};
use chrono::TimeDelta;
use fairseam::store::book::{BookStore, Content, SqliteBook, entries, verify};
use fairseam::store::keys::Role;

use crate::binary::fairseam_at;
use crate::server_support::{MORNING, ROOF, Served, on_runtime, request, site_file, trial, uuid};

async fn book(served: &Served) -> SqliteBook {
    SqliteBook::open(served.home.path()).await.unwrap()
}

#[test]
fn a_trial_is_booked_once_however_often_it_is_sent() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) =
            served.key_of(Role::Crew, Some(ROOF), "crew A, tablet", TimeDelta::days(1)).await;
        let sent = trial(&uuid(1), "J.");
        let first = served.post_trial(&key, sent.to_string()).await;
        assert_eq!(first.status, StatusCode::CREATED, "{}", first.text);
        // Good at 800 and 900, cold below, burnt above: the middle of the two.
        let setting = &first.json()["judged"]["setting"];
        assert_eq!((&setting["verdict"], &setting["heat"]), (&"run-at".into(), &850.into()));
        // A phone may write the same trial with its keys in another order and its name in capitals.
        let mut again = sent.clone();
        again["sent_id"] = uuid(1).to_uppercase().into();
        let mut keys: Vec<_> = again.as_object().unwrap().iter().collect();
        keys.reverse();
        let reversed: Vec<String> = keys.iter().map(|(k, v)| format!("\"{k}\":{v}")).collect();
        for text in [sent.to_string(), format!("{{{}}}", reversed.join(","))] {
            let second = served.post_trial(&key, text).await;
            assert_eq!((second.status, &second.text), (StatusCode::OK, &first.text));
        }
        let mut other = sent.clone();
        other["air"] = 56.into();
        let other = served.post_trial(&key, other.to_string()).await;
        assert_eq!(other.status, StatusCode::CONFLICT, "{}", other.text);
        let booked = entries(&book(&served).await, None).await.unwrap();
        assert_eq!(booked.len(), 1);
        assert_eq!(booked[0].recorded_by, "crew A, tablet");
        let Content::Trial(recorded) = &booked[0].content else { panic!("{booked:?}") };
        assert_eq!(recorded.trial.who, "J.");
    });
}

#[test]
fn sent_by_many_at_once_it_is_booked_once() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) = served.key(Role::Crew, Some(ROOF)).await;
        let sent = trial(&uuid(7), "J.").to_string();
        let answers: Vec<_> = (0..8).map(|_| served.post_trial(&key, sent.clone())).collect();
        let answers = futures_util::future::join_all(answers).await;
        let created = answers.iter().filter(|one| one.status == StatusCode::CREATED).count();
        assert_eq!(created, 1, "{answers:?}");
        assert!(answers.iter().all(|one| one.text == answers[0].text), "{answers:?}");
        assert_eq!(book(&served).await.head().await.unwrap().unwrap().entry.0, 1);
    });
}

#[test]
fn what_is_no_sound_trial_is_refused_with_every_fault() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) = served.key(Role::Crew, Some(ROOF)).await;
        let mut hot = trial(&uuid(1), "J.");
        hot["heats"][0]["heat"] = 70_000.into();
        let mut nameless = trial(&uuid(1), "J.");
        nameless.as_object_mut().unwrap().remove("sent_id");
        let unknown = "{\"sent_id\":\"6f1c2e0a-9d3b-4a57-8a31-000000000001\",\"haets\":[]}";
        for (text, part) in [
            (hot.to_string(), "heat"),
            (nameless.to_string(), "sent_id"),
            (unknown.to_owned(), "`haets`"),
            (unknown.to_owned(), "`air`: is missing"),
            ("[]".to_owned(), "sent_id"),
            ("{".to_owned(), "JSON"),
            (String::new(), "JSON"),
        ] {
            let answer = served.post_trial(&key, text.clone()).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{text}: {}", answer.text);
            let json = answer.json();
            let said = json["error"].as_str().unwrap();
            assert!(said.contains(part), "{text}: {said}");
        }
        assert!(book(&served).await.head().await.unwrap().is_none());
    });
}

#[test]
fn it_is_seen_at_once_on_every_page() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key(Role::Crew, Some(ROOF)).await;
        let (_, office) = served.key(Role::Office, None).await;
        let day = || async { served.get(&format!("/crew/{ROOF}/day.json"), &crew).await.json() };
        let before = day().await;
        let first = &before["today"]["report"]["checkpoints"][0];
        // It falls due before the trial was made, by less than it may be late.
        let due = first["due"].as_str().unwrap();
        assert!(("2027-04-21T07:41".."2027-04-21T08:05").contains(&due), "{first}");
        assert_eq!(first["status"], "overdue");
        served.post_trial(&crew, trial(&uuid(1), "J.").to_string()).await;
        let after = day().await;
        assert_eq!(after["today"]["report"]["checkpoints"][0]["status"], "done");
        assert_ne!(before["book_version"], after["book_version"]);
        assert_ne!(before["plan_version"], after["plan_version"]);
        assert_eq!(after["now"], "2027-04-21T08:30:00-05:00");
        for (path, word) in [
            ("/office/", "standing done"),
            ("/office/roof-a/book", "850"),
            ("/office/outlook", "<a href=\"/office/\">Roofs</a>"),
        ] {
            let page = served.get(path, &office).await.text;
            assert!(page.contains(word), "{path}: {page}");
        }
    });
}

#[test]
fn the_office_corrects_in_its_own_name_and_nobody_overwrites_unseen() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, crew) = served.key_of(Role::Crew, Some(ROOF), "crew A", TimeDelta::days(1)).await;
        let (_, office) = served.key_of(Role::Office, None, "office M", TimeDelta::days(1)).await;
        served.post_trial(&crew, trial(&uuid(1), "J.").to_string()).await;
        let path = format!("/office/{ROOF}/book/1");
        let page = served.get(&path, &office).await.text;
        let form = fields(&page);
        assert!(form.contains(&("lot".into(), String::new())), "{form:?}");
        let send = async |changed: &[(&str, &str)]| {
            let mut body = url::form_urlencoded::Serializer::new(String::new());
            for (name, value) in &form {
                let typed = changed.iter().find(|(changed, _)| changed == name);
                body.append_pair(name, typed.map_or(value.as_str(), |(_, typed)| typed));
            }
            let asked = request("POST", &path, Some(&office))
                .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
            served.send(asked.body(Body::from(body.finish())).unwrap()).await
        };
        let unchanged = send(&[("why", "no reason")]).await;
        assert_eq!(unchanged.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", unchanged.text);
        let silent = send(&[("lot", "B7")]).await;
        assert_eq!(silent.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", silent.text);
        let wrong = send(&[("why", "misread"), ("air", "warm")]).await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", wrong.text);
        assert!(wrong.text.contains("value=\"warm\""), "what was typed is lost");
        let right = send(&[("why", "lot misread"), ("lot", "B7")]).await;
        assert_eq!(right.status, StatusCode::SEE_OTHER, "{}", right.text);
        // The same form again was made from a form of the trial that stands no more.
        let late = send(&[("why", "again"), ("lot", "B8")]).await;
        assert_eq!(late.status, StatusCode::CONFLICT, "{}", late.text);
        let booked = entries(&book(&served).await, None).await.unwrap();
        assert_eq!(booked.len(), 2);
        assert_eq!(booked[1].recorded_by, "office M");
        let Content::Trial(corrected) = &booked[1].content else { panic!("{booked:?}") };
        let Content::Trial(first) = &booked[0].content else { panic!("{booked:?}") };
        assert_eq!(corrected.trial.lot.as_deref(), Some("B7"));
        // What was not touched is the same to the last bit.
        assert_eq!(corrected.trial.heats, first.trial.heats);
        assert_eq!(corrected.trial.when, first.trial.when);
        let page = served.get(&path, &office).await.text;
        assert!(page.contains("office M") && page.contains("lot misread"), "{page}");
    });
}

/// Names and values of the correction's form, as a browser would send them.
fn fields(page: &str) -> Vec<(String, String)> {
    let form = page.split("class=\"correct\"").nth(1).unwrap();
    let attribute = |tag: &str, name: &str| {
        let found = tag.split(&format!(" {name}=\"")).nth(1);
        found
            .map(|rest| rest.split('"').next().unwrap().replace("&quot;", "\""))
            .unwrap_or_default()
    };
    form.split("<input")
        .skip(1)
        .map(|rest| rest.split('>').next().unwrap())
        .map(|tag| (attribute(tag, "name"), attribute(tag, "value")))
        .collect()
}

#[test]
fn the_command_line_and_the_server_write_into_one_book() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) = served.key(Role::Crew, Some(ROOF)).await;
        let site = site_file(&served.home, "roof-a", "\"Roof A\"");
        let site = site.to_str().unwrap().to_owned();
        let home = served.home.path().to_owned();
        let by_command = tokio::task::spawn_blocking(move || {
            (0..6)
                .map(|number| {
                    let who = format!("command {number}");
                    let flags = [
                        "record",
                        &site,
                        "--welder",
                        "automatic 1",
                        "--who",
                        &who,
                        "--air",
                        "55",
                        "--speed",
                        "8",
                        "--heat",
                        "800",
                        "--strips",
                        "1.5 film-tear x3",
                    ];
                    fairseam_at(&home, &flags, MORNING)
                })
                .collect::<Vec<_>>()
        });
        for number in 0..12 {
            let who = format!("phone {number}");
            let answer = served.post_trial(&key, trial(&uuid(number), &who).to_string()).await;
            assert_eq!(answer.status, StatusCode::CREATED, "{}", answer.text);
        }
        for run in by_command.await.unwrap() {
            assert_eq!(run.code, 0, "{}", run.stderr);
        }
        let book = book(&served).await;
        let verified = verify(&book).await.unwrap();
        assert_eq!((verified.entries, &verified.fault), (18, &None));
        let mut who: Vec<String> = entries(&book, None)
            .await
            .unwrap()
            .into_iter()
            .map(|entry| match entry.content {
                Content::Trial(recorded) => recorded.trial.who,
                other => panic!("{other:?}"),
            })
            .collect();
        who.sort();
        who.dedup();
        assert_eq!(who.len(), 18, "{who:?}");
    });
}
