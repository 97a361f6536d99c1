//! A follower is killed again and again: one that looks once, and one that runs on, while it works, while
//! it waits, while it is told to stop. Each time the crew's calendar is whole and the old one or the new
//! one, and the next follower goes on from there.
#![cfg(unix)]

use std::collections::BTreeMap;
use std::fs;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use chrono::{DateTime, SecondsFormat, TimeDelta, Utc};
use fairseam::store::follow::FollowStore;
use fairseam::words::Language;

use crate::book_store_sample::run;
use crate::fault_kill::{keeps_counting, killed, kills, span};
use crate::fault_support::{Aim, Chance, EVENING, FOLLOW, Place, RECORD, Weather};

const NAME: &str = "Prairie grain store, roof B";

/// A follower that was killed loses its site after three minutes.
fn minutes_after(start: &str, minutes: u32) -> DateTime<Utc> {
    start.parse::<DateTime<Utc>>().unwrap() + TimeDelta::minutes(i64::from(minutes))
}

/// The calendar of what is kept as published for a site; `None` where nothing is.
fn published(place: &Place, key: &str) -> Option<Vec<u8>> {
    run(async {
        let store = FollowStore::open_to_read(&place.home()).await.unwrap()?;
        // What was published of the day before yesterday stands in no file any more.
        let days = store.days_from(key, "2027-04-19".parse().unwrap()).await.unwrap();
        let events: Vec<_> = days.into_iter().flat_map(|day| day.events).collect();
        let text = fairseam::render::ics::calendar(Language::default(), NAME, &events);
        (!events.is_empty()).then(|| text.unwrap().into_bytes())
    })
}

#[test]
fn a_killed_follower_leaves_a_whole_calendar_and_the_next_one_goes_on() {
    let place = Place::new();
    let mut chance = Chance(362_436_069_123_457);
    let at = |round: u32| minutes_after(EVENING, round * 4).to_rfc3339();
    let mut aim = Aim::within(span(&mut place.command(FOLLOW)));
    let mut sequences = BTreeMap::new();
    let mut finished = 0;
    for round in 1..=kills() {
        place.weather(if (round / 3) % 2 == 0 { Weather::Demo } else { Weather::Dry });
        let mut command = place.command(FOLLOW);
        command.env("FAIRSEAM_NOW", at(round));
        let done = killed(&mut command, aim.moment(&mut chance), round);
        aim.learn(done);
        finished += u32::from(done);
        keeps_counting(&place, "crew.ics", &mut sequences);
    }
    assert!(finished < kills(), "none was killed");
    let clean = place.command(FOLLOW).env("FAIRSEAM_NOW", at(kills() + 1)).output().unwrap();
    assert!(clean.status.success(), "{}", String::from_utf8_lossy(&clean.stdout));
    keeps_counting(&place, "crew.ics", &mut sequences);
    assert!(place.read("crew.ics") == published(&place, "roof"), "it holds what was published");
}

/// 11:00 on the demonstration's clock: from now on the day of a roof is followed whose evening entry rings
/// at noon. That early, so that a hundred more fit into the day.
const FROM: &str = "2027-04-20T16:00:00Z";

/// `text` with an evening entry at so many minutes past noon.
fn with_evening(text: &str, minutes: u32) -> String {
    let clock = minutes_after("2027-04-20T12:00:00Z", minutes);
    format!("{text}\n[reminders]\nevening_before = \"{}\"\n", clock.format("%H:%M"))
}

/// A second roof, of which the day is followed `minutes` after the first one's.
fn barn(place: &Place, site: &str, minutes: u32) -> String {
    let key = format!("barn-{minutes}");
    let text = site.replace("id = \"roof\"", &format!("id = \"{key}\""));
    let text = text.replace("\"crew.ics\"", &format!("\"{key}.ics\""));
    fs::write(place.path(&format!("{key}.toml")), with_evening(&text, minutes)).unwrap();
    key
}

/// How a follower that runs on comes to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    Killed,
    Stopped,
    /// Told to stop, and killed while it does.
    KilledStopping,
    /// Told to stop twice: at once.
    StoppedTwice,
}

const ENDS: [End; 4] = [End::Killed, End::Stopped, End::KilledStopping, End::StoppedTwice];

fn terminate(child: &Child) {
    let id = child.id().to_string();
    assert!(Command::new("kill").args(["-TERM", &id]).status().unwrap().success());
}

impl End {
    /// Brings it about; whether it stopped in good order.
    fn bring(self, child: &mut Child, chance: &mut Chance) -> bool {
        let told = Instant::now();
        match self {
            Self::Killed => child.kill().unwrap(),
            Self::Stopped => terminate(child),
            Self::KilledStopping => {
                terminate(child);
                std::thread::sleep(chance.moment(Duration::from_millis(30)));
                child.kill().unwrap();
            }
            Self::StoppedTwice => {
                terminate(child);
                std::thread::sleep(chance.moment(Duration::from_millis(10)));
                terminate(child);
            }
        }
        let code = child.wait().unwrap().code();
        // Nobody waits for it until the next look, a minute away.
        assert!(told.elapsed() < Duration::from_secs(20), "{self:?}: {:?}", told.elapsed());
        let expected = match self {
            Self::Killed => &[None][..],
            // A signal that comes before it is listened for ends the process.
            Self::Stopped => &[None, Some(0)],
            Self::KilledStopping | Self::StoppedTwice => &[None, Some(0), Some(1)],
        };
        assert!(expected.contains(&code), "{self:?}: {code:?}");
        code == Some(0)
    }
}

/// `follow` without `--once`: it looks, waits for the second roof's hour, looks at both, and waits again.
#[test]
fn a_follower_that_runs_on_is_killed_at_any_moment_and_the_next_one_goes_on() {
    let place = Place::new();
    let site = fs::read_to_string(place.path("site.toml")).unwrap();
    fs::write(place.path("site.toml"), with_evening(&site, 0)).unwrap();
    let mut chance = Chance(774_363_281_904_275);
    // The first look; the second one comes a second after it.
    let mut aim = Aim::within(span(place.command(FOLLOW).env("FAIRSEAM_NOW", FROM)));
    let mut sequences = BTreeMap::new();
    let mut barns = Vec::new();
    let (mut looked_twice, mut stopped, mut heard) = (0, 0, 0);
    let mut round = 0;
    // On until some came to their second look and some ended in order, however the machine runs.
    while round < kills() || (round < 5 * kills() && (looked_twice == 0 || stopped == 0)) {
        round += 1;
        place.weather(if (round / 3) % 2 == 0 { Weather::Demo } else { Weather::Dry });
        let barn = barn(&place, &site, round * 4);
        let begun = minutes_after(FROM, round * 4) - TimeDelta::milliseconds(900);
        let begun = begun.to_rfc3339_opts(SecondsFormat::Millis, true);
        let mut seen = vec![place.read("crew.ics")];
        let mut child = place
            .command(&["follow", "site.toml", &format!("{barn}.toml")])
            .env("FAIRSEAM_NOW", &begun)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let started = Instant::now();
        // Killed in its first look, or in its second one and after.
        let in_second = round % 2 == 0;
        let pause = if in_second { Duration::from_secs(1) } else { Duration::ZERO };
        if in_second && round % 4 == 0 {
            // A test weld is written down between the two.
            let mut record = place.command(RECORD);
            assert!(record.env("FAIRSEAM_NOW", &begun).output().unwrap().status.success());
            heard += 1;
        }
        std::thread::sleep(pause.saturating_sub(started.elapsed()));
        seen.push(place.read("crew.ics"));
        std::thread::sleep(aim.moment(&mut chance));
        let end = ENDS[usize::try_from(round / 2).unwrap() % ENDS.len()];
        let in_order = end.bring(&mut child, &mut chance);
        let second = published(&place, &barn);
        if in_second {
            aim.learn(second.is_some());
        }
        looked_twice += u32::from(second.is_some());
        stopped += u32::from(in_order);
        // Whole, and the old one or the new one; of two looks there are two.
        keeps_counting(&place, "crew.ics", &mut sequences);
        seen.push(published(&place, "roof"));
        assert!(seen.contains(&place.read("crew.ics")), "round {round}, {end:?}");
        if let Some(file) = place.read(&format!("{barn}.ics")) {
            assert!(Some(&file) == second.as_ref(), "round {round}, {end:?}");
        }
        if in_order {
            gave_back(&place, &["roof", &barn]);
        }
        barns.push(barn);
    }
    assert!(looked_twice > 0, "none came to its second look");
    assert!(stopped > 0 && heard > 0, "{stopped} stopped, {heard} tests");
    goes_on(&place, &barns, &mut sequences);
}

/// Whoever stops in good order leaves its sites to others.
fn gave_back(place: &Place, keys: &[&str]) {
    run(async {
        let store = FollowStore::open_to_read(&place.home()).await.unwrap().unwrap();
        for key in keys {
            assert_eq!(store.holder(key).await.unwrap(), None, "{key}");
        }
    });
}

/// The next follower takes every site, and their calendars hold what was published.
fn goes_on(place: &Place, barns: &[String], sequences: &mut BTreeMap<String, u32>) {
    let files: Vec<String> = barns.iter().map(|barn| format!("{barn}.toml")).collect();
    let mut arguments = vec!["follow", "site.toml", "--once"];
    arguments.extend(files.iter().map(String::as_str));
    let at = minutes_after(FROM, (kills() + 2) * 4).to_rfc3339();
    let clean = place.command(&arguments).env("FAIRSEAM_NOW", at).output().unwrap();
    assert!(clean.status.success(), "{}", String::from_utf8_lossy(&clean.stdout));
    keeps_counting(place, "crew.ics", sequences);
    let barns = barns.iter().map(|barn| (format!("{barn}.ics"), barn.as_str()));
    for (file, key) in barns.chain([("crew.ics".to_owned(), "roof")]) {
        let file = place.read(&file);
        assert!(file.is_some() && file == published(place, key), "{key} holds what was published");
    }
}
