//! A site that is renamed or moved: its trials, its calendar, and what is said where they seem lost.

use fairseam::site::Site;
use fairseam::store::book::{BookSite, BookStore, earlier_self, record};

use crate::binary::fairseam_at;
use crate::book_store_sample::{note, open, run};
use crate::kept_plan::kept;
use crate::support::example_site;

fn site(name: &str, latitude: &str, longitude: &str, id: Option<&str>) -> Site {
    let mut text = example_site(&[
        ("name", &format!("\"{name}\"")),
        ("latitude_deg", latitude),
        ("longitude_deg", longitude),
    ]);
    if let Some(id) = id {
        text = format!("id = \"{id}\"\n{text}");
    }
    fairseam::site::load(&text, "roof.toml").unwrap().site
}

const HERE: (&str, &str) = ("40.6925", "-74.1687");

#[test]
fn an_id_stands_for_the_site_in_book_and_calendar() {
    let old = site("East bay", HERE.0, HERE.1, None);
    let new = site("East bay, phase 2", "40.7", "-74.2", Some(&old.key()));
    assert_eq!(new.key(), old.key());
    assert_eq!(site("East bay", "40.7", "-74.2", Some("east-bay")).key(), "east-bay");
    let uid = |site: &Site| {
        let plan = crate::record_crew::plan_of(site, "2027-04-21");
        fairseam::render::ics::entries(&plan, &site.reminders)[0].uid.clone()
    };
    assert_eq!(uid(&new), uid(&old));
    let named = site("East bay", HERE.0, HERE.1, Some("east-bay"));
    assert!(uid(&named).starts_with("fairseam-east-bay-2027-04-21-"), "{}", uid(&named));
}

#[test]
fn an_id_is_fit_for_a_calendar() {
    let long = "x".repeat(41);
    for id in ["", "East", "east bay", "ost-straße", "a/b", "..", &long] {
        let text = format!("id = \"{id}\"\n{}", example_site(&[]));
        let fault = fairseam::site::load(&text, "roof.toml").unwrap_err().to_string();
        assert!(fault.contains("small letters, digits and hyphens"), "{id}: {fault}");
    }
}

/// What the book finds for `new` when it holds four entries of `old`, and its plan where `planned`.
fn found(old: &Site, new: &Site, planned: bool) -> Option<(u64, bool)> {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        for minutes in 0..4 {
            let mut entry = note(minutes);
            entry.site = BookSite::of(old);
            record(&book, &entry).await.unwrap();
        }
        if planned {
            let mut plan = kept("2027-04-21", "2027-04-20T20:00:00Z");
            (plan.latitude_deg, plan.longitude_deg) = (old.latitude_deg, old.longitude_deg);
            assert!(book.keep_plan(&BookSite::of(old), &plan).await.unwrap());
        }
        let earlier = earlier_self(&book, new).await.unwrap();
        earlier.map(|earlier| (earlier.known.entries, earlier.same_name))
    })
}

#[test]
fn a_site_of_the_same_name_or_place_is_found() {
    let old = site("East bay", HERE.0, HERE.1, None);
    for (new, planned, expected) in [
        (site("East bay", HERE.0, HERE.1, None), false, None),
        (site("East bay", "41", "-75", None), false, Some((4, true))),
        (site(" east BAY ", "41", "-75", None), false, Some((4, true))),
        (site("West bay", HERE.0, HERE.1, None), false, Some((4, false))),
        (site("West bay", "41", "-75", None), true, None),
        // 0.0008 degrees of latitude are 89 m, 0.001 are 111 m.
        (site("West bay", "40.6933", HERE.1, None), true, Some((4, false))),
        (site("West bay", "40.6935", HERE.1, None), true, None),
        // At 40.7 degrees north 0.001 degrees of longitude are 84 m, 0.0013 are 110 m.
        (site("West bay", HERE.0, "-74.1697", None), true, Some((4, false))),
        (site("West bay", HERE.0, "-74.1700", None), true, None),
        // Without a plan nothing tells where the old one was.
        (site("West bay", "40.6933", HERE.1, None), false, None),
        (site("East bay", HERE.0, HERE.1, Some("east-bay")), false, Some((4, true))),
    ] {
        assert_eq!(found(&old, &new, planned), expected, "{} {planned}", new.name);
    }
}

#[test]
fn neighbors_across_the_date_line_are_neighbors() {
    let old = site("Lagoon", "-17", "179.9998", None);
    let new = site("Reef", "-17", "-179.9998", None);
    assert_eq!(found(&old, &new, true), Some((4, false)));
}

#[test]
fn the_commands_say_so_and_go_on_with_the_id_that_they_name() {
    let folder = tempfile::tempdir().unwrap();
    let demo = include_str!("../../config/demo/site.toml");
    let forecast = include_str!("../../config/demo/forecast.json");
    std::fs::write(folder.path().join("forecast.json"), forecast).unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let home = folder.path().join("home");
    let now = "2027-04-20T23:00:00Z";
    let old = write("old.toml", demo);
    let trial = ["record", &old, "--welder", "automatic 1", "--who", "M.", "--air", "44"];
    let strips = ["--speed", "6", "--at", "07:10", "--heat", "800", "--strips", "1.5 f x3"];
    assert_eq!(fairseam_at(&home, &[&trial[..], &strips].concat(), now).code, 0);

    let renamed = demo.replace("Prairie grain store, roof B", "Grain store, phase 2");
    let new = write("new.toml", &renamed);
    let plan = ["plan", &new, "--date", "2027-04-21", "--keep"];
    let mut key = String::new();
    for command in [&["book", &new][..], &plan] {
        let run = fairseam_at(&home, command, now);
        assert_eq!(run.code, 0, "{}", run.stderr);
        let said = "note: the test-weld book has nothing of this site, but 1 entry of a site at \
                    the same place, `Prairie grain store, roof B`: if that is this roof, write \
                    `id = \"";
        assert!(run.stderr.starts_with(said), "{}", run.stderr);
        key = run.stderr[said.len()..].split('"').next().unwrap().to_owned();
    }
    let new = write("new.toml", &format!("id = \"{key}\"\n{renamed}"));
    let run = fairseam_at(&home, &["book", &new], now);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    assert!(run.stdout.contains("800 °F at 6 ft/min"), "{}", run.stdout);
}
