//! `fairseam follow` as a user or a service manager runs it.

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

use crate::binary::{Run, fairseam_at, root};

/// 18:00 on the demonstration's clock, the evening before its day.
const EVENING: &str = "2027-04-20T23:00:00Z";
const DAY: &str = "2027-04-21";

struct Place(tempfile::TempDir);

impl Place {
    fn new(publish: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::copy(root().join("config/demo/forecast.json"), folder.path().join("forecast.json"))
            .unwrap();
        let site = fs::read_to_string(root().join("config/demo/site.toml")).unwrap();
        fs::write(folder.path().join("site.toml"), format!("{site}\n[publish]\n{publish}\n"))
            .unwrap();
        Self(folder)
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_str().unwrap().to_owned()
    }

    fn run(&self, args: &[&str], now: &str) -> Run {
        fairseam_at(&self.0.path().join("home"), args, now)
    }

    fn once(&self, now: &str) -> Run {
        self.run(&["follow", &self.path("site.toml"), "--once"], now)
    }
}

#[test]
fn one_look_publishes_and_the_next_has_nothing_to_say() {
    let place = Place::new("ics = \"crew.ics\"");
    let first = place.once(EVENING);
    assert_eq!((first.code, first.stderr.as_str()), (0, ""), "{}", first.stdout);
    let published: Vec<&str> =
        first.stdout.lines().filter(|line| line.contains("published: the day")).collect();
    assert_eq!(published.len(), 1, "{}", first.stdout);
    assert!(published[0].starts_with("2027-04-20T23:00:0"), "{}", published[0]);
    let calendar = fs::read_to_string(place.path("crew.ics")).unwrap();
    // Lines are folded. Source: RFC5545, section 3.1.
    let unfolded = calendar.replace("\r\n ", "");
    // The demonstration's sheet is wet until ten to eight, and it rains from three on.
    for wanted in ["-2027-04-21-after-hold-1\r\n", "HOLD until 07:50", "HOLD until 15:30"] {
        assert!(unfolded.contains(wanted), "beside the site file: {calendar}");
    }
    let again = place.once("2027-04-20T23:10:00Z");
    assert_eq!(again.code, 0);
    assert!(!again.stdout.contains("published:"), "{}", again.stdout);
    assert_eq!(fs::read_to_string(place.path("crew.ics")).unwrap(), calendar);
}

#[test]
fn a_plan_does_not_write_over_a_followed_day() {
    let place = Place::new("ics = \"crew.ics\"");
    place.once(EVENING);
    let site = place.path("site.toml");
    let (other, now) = (place.path("other.ics"), "2027-04-20T23:10:00Z");
    let refused = place.run(&["plan", &site, "--date", DAY, "--ics", &other], now);
    assert_eq!((refused.code, refused.stdout.as_str()), (1, ""));
    let said = "error: the calendar of 2027-04-21 is kept current by `fairseam follow`, which last \
                published it at 2027-04-20 18:00;";
    assert!(refused.stderr.starts_with(said), "{}", refused.stderr);
    assert!(!fs::exists(&other).unwrap());
    assert_eq!(place.run(&["plan", &site, "--date", DAY], now).code, 0, "without a calendar");
}

#[test]
fn what_cannot_be_followed_is_said_in_a_sentence() {
    let login = "publish.caldav_login";
    for (publish, args, said) in [
        ("caldav = \"https://c.example.com/crew/\"", &[][..], "FAIRSEAM_CALDAV_LOGIN"),
        ("caldav = \"http://c.example.com/crew/\"\ncaldav_login = \"login\"", &[], "https://"),
        (
            "caldav = \"https://c.example.com/crew/\"\ncaldav_login = \"none\"",
            &[],
            "cannot be read",
        ),
        ("ics = \"site.toml\"", &[], "`publish.ics` names the site file"),
        ("", &["site.toml"], "expected each site once"),
    ] {
        let place = Place::new(publish);
        fs::write(place.path("login"), "foreman:s3cret").unwrap();
        private(&place.path("login"));
        let mut line = vec!["follow".to_owned(), place.path("site.toml"), "--once".to_owned()];
        line.extend(args.iter().map(|name| place.path(name)));
        let line: Vec<&str> = line.iter().map(String::as_str).collect();
        let run = place.run(&line, EVENING);
        assert_eq!(run.code, 1, "{login} {publish}: {}", run.stdout);
        assert!(run.stderr.contains(said), "{publish}: {}", run.stderr);
        assert!(!run.stderr.contains("s3cret"));
    }
}

/// Whatever a service, a calendar server or a damaged file says is quoted in the log: a line stays a line.
#[test]
fn what_is_quoted_in_the_log_steers_no_terminal_and_forges_no_line() {
    let place = Place::new("");
    let site = fs::read_to_string(place.path("site.toml")).unwrap();
    let asked = "source = \"open-meteo\"\nbase_url = \"http://127.0.0.1:9\"";
    let site = site.replace("source = \"file\"\npath = \"forecast.json\"", asked);
    assert!(site.contains(asked), "{site}");
    fs::write(place.path("site.toml"), site).unwrap();
    let cache = place.0.path().join("home/cache");
    fs::create_dir_all(&cache).unwrap();
    let because = "\\u001b[2J\\n2027-04-20T23:00:01Z Roof: published: nothing\\u202e";
    let state = format!("{{\"not_before\":\"2027-04-20T23:30:00Z\",\"because\":\"{because}\"}}");
    fs::write(cache.join("host_open-meteo_127.0.0.1-9.json"), state).unwrap();
    let run = place.once(EVENING);
    let quoting: Vec<&str> = run.stdout.lines().filter(|line| line.contains("[2J")).collect();
    assert_eq!(quoting.len(), 1, "{:?}", run.stdout);
    assert!(quoting[0].contains("no forecast: ") && quoting[0].contains("nothing"), "{quoting:?}");
    assert!(!run.stdout.contains(['\u{1b}', '\u{202e}']), "{:?}", run.stdout);
    assert!(run.stdout.lines().all(|line| line.contains("Prairie grain store")), "{}", run.stdout);
}

/// Every event of a calendar, as it is written.
#[cfg(unix)]
fn events(calendar: &str) -> Vec<&str> {
    let from = calendar.split("BEGIN:VEVENT").skip(1);
    from.map(|event| event.split("END:VEVENT").next().unwrap()).collect()
}

#[cfg(unix)]
#[test]
fn the_feed_of_a_followed_day_is_what_was_published() {
    let place = Place::new("ics = \"crew.ics\"");
    place.once(EVENING);
    let (site, home) = (place.path("site.toml"), place.0.path().join("home"));
    let key = ["serve", "--new-key", &site, "--for", "feed", "--holder", "phone"];
    let link = place.run(&key, EVENING).stdout;
    let path = link.trim().split_once(":8790").unwrap().1.to_owned();
    let later = "2027-04-20T23:20:00Z";
    let server = crate::server_command::Process::start_at(&home, &[&site], later);
    let answer =
        server.ask(&format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n"));
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    let calendar = fs::read_to_string(place.path("crew.ics")).unwrap();
    let published = events(&calendar);
    assert!(published.len() > 4, "{calendar}");
    let of_the_day = |event: &&&str| event.replace("\r\n ", "").contains("-2027-04-21-");
    let served = events(&answer);
    let served: Vec<&&str> = served.iter().filter(of_the_day).collect();
    assert_eq!(served, published.iter().collect::<Vec<_>>());
}

#[cfg(unix)]
fn private(path: &str) {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(0o600)).unwrap();
}

#[cfg(not(unix))]
fn private(_: &str) {}

#[cfg(unix)]
#[test]
fn a_service_manager_can_stop_it() {
    for signal in ["-TERM", "-INT"] {
        let place = Place::new("");
        let mut child = Command::new(env!("CARGO_BIN_EXE_fairseam"))
            .args(["follow", &place.path("site.toml")])
            .env_clear()
            .env("FAIRSEAM_HOME", place.0.path().join("home"))
            .env("FAIRSEAM_NOW", EVENING)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
        assert!(lines.any(|line| line.contains("alive: ")), "the health line");
        let id = child.id().to_string();
        assert!(Command::new("kill").args([signal, &id]).status().unwrap().success());
        let rest: Vec<String> = lines.collect();
        assert!(rest.last().is_some_and(|line| line.ends_with(": stopped")), "{rest:?}");
        assert_eq!(child.wait().unwrap().code(), Some(0), "{signal}");
    }
}
