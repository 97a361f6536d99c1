//! The machine fails: no room, no rights, no home folder, no zone data, no locale, nobody at the
//! other end of stdout and stderr. Every command ends in the old state or the new one, and says so
//! in one sentence.
#![cfg(unix)]

use std::fs::{self, Permissions};
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::fault_support::{DAY, FOLLOW, OUTLOOK, PLAN, Place, RECORD, Said, Weather};

/// No tool is missing, so this is no failure where tools are required.
fn skip(why: &str) {
    // Where nothing captures it.
    let mut terminal = std::io::stderr();
    writeln!(terminal, "SKIPPED: {why}").unwrap();
}

/// Blocks that the shell lets a file grow to, from no room at all to plenty: each command passes
/// through several states between.
const ROOM: [u32; 9] = [0, 1, 8, 16, 24, 48, 80, 120, 400];

/// Runs it where files cannot grow beyond some blocks; the trap turns the signal into an error.
fn with_room(place: &Place, blocks: u32, arguments: &[&str]) -> Said {
    let before = format!("trap '' XFSZ; ulimit -f {blocks}");
    let said = Said::of(&place.shell(&before, "", arguments).output().unwrap());
    said.is_orderly(&format!("{blocks} blocks: {arguments:?}"));
    said
}

#[test]
fn without_room_a_plans_files_are_the_old_ones_or_the_new_ones() {
    let place = Place::new();
    place.works(PLAN);
    place.weather(Weather::Dry);
    let before = place.snapshot();
    let old = (place.read("day.ics"), place.read("day.html"));
    place.works(PLAN);
    let new = (place.read("day.ics"), place.read("day.html"));
    assert!(old.0 != new.0 && old.1 != new.1);
    let mut failed = 0;
    for blocks in ROOM {
        place.put_back(&before);
        let said = with_room(&place, blocks, PLAN);
        let now = (place.read("day.ics"), place.read("day.html"));
        let expected = if said.code == Some(0) { &new } else { &old };
        assert!(now == *expected, "{blocks} blocks: {}", said.err);
        failed += usize::from(said.code == Some(1));
        assert_eq!(place.litter(), Vec::<std::path::PathBuf>::new());
        place.works(PLAN);
        assert!((place.read("day.ics"), place.read("day.html")) == new, "after {blocks} blocks");
    }
    assert!((2..ROOM.len()).contains(&failed), "{failed} failed");
}

#[test]
fn without_room_a_trial_is_written_down_whole_or_not_at_all() {
    let (mut written, mut failed) = (0, 0);
    for blocks in ROOM {
        let place = Place::new();
        for entries in 0..2 {
            let said = with_room(&place, blocks, RECORD);
            let is_done = said.code == Some(0);
            if is_done {
                written += 1;
            } else {
                failed += 1;
                assert!(said.err.contains("so nothing was recorded: make room"), "{}", said.err);
            }
            let before = place.book_entries();
            assert_eq!(before, if is_done { entries + 1 } else { 0 }, "{blocks} blocks");
            if !is_done {
                break;
            }
        }
        let before = place.book_entries();
        place.works(RECORD);
        assert_eq!(place.book_entries(), before + 1, "after {blocks} blocks");
    }
    assert!(written > 0 && failed > 0);
}

#[test]
fn without_room_a_followed_day_keeps_its_calendar() {
    let place = Place::new();
    place.works(FOLLOW);
    place.weather(Weather::Dry);
    let before = place.snapshot();
    let old = place.read("crew.ics");
    let mut failed = 0;
    for blocks in ROOM {
        place.put_back(&before);
        let said = with_room(&place, blocks, FOLLOW);
        // Good news is told when it was heard twice, so one look leaves the calendar as it is.
        assert!(place.read("crew.ics") == old, "{blocks} blocks: {}", said.out);
        if said.code == Some(1) {
            failed += 1;
            let told = said.out + &said.err;
            assert!(told.contains("room on that disk"), "{blocks}: {told}");
        }
        place.works(FOLLOW);
    }
    assert!((2..ROOM.len()).contains(&failed), "{failed} failed");
    // Nothing published yet: there is a whole calendar or none.
    for blocks in ROOM {
        let place = Place::new();
        with_room(&place, blocks, FOLLOW);
        if let Some(calendar) = place.read("crew.ics") {
            assert!(calendar.ends_with(b"END:VCALENDAR\r\n"), "{blocks} blocks");
        }
        place.works(FOLLOW);
        assert!(place.read("crew.ics").unwrap().ends_with(b"END:VCALENDAR\r\n"));
    }
}

#[test]
fn without_room_keys_and_outlook_say_so() {
    for blocks in [0, 1, 8] {
        let place = Place::new();
        let key = ["serve", "--new-key", "site.toml", "--for", "crew", "--holder", "crew A"];
        let said = with_room(&place, blocks, &key);
        assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "no key that is not kept");
        assert!(said.err.contains("room on that disk"), "{}", said.err);
        let said = with_room(&place, blocks, OUTLOOK);
        assert_eq!((said.code, place.read("outlook.html")), (Some(1), None));
        let said = with_room(&place, blocks, &["serve", "site.toml", "--listen", "127.0.0.1:0"]);
        assert!(said.err.contains("make room on the disk"), "{}", said.err);
        assert!(place.works(&key).starts_with("http://"));
        place.works(OUTLOOK);
    }
}

/// Folders that may be read and no more: what only reads works, what writes says what to do.
#[test]
fn without_rights_what_only_reads_still_works() {
    let place = Place::new();
    place.works(RECORD);
    place.works(FOLLOW);
    let (root, home) = (place.path("."), place.home());
    let published = place.read("crew.ics");
    for folder in [&root, &home] {
        fs::set_permissions(folder, Permissions::from_mode(0o555)).unwrap();
    }
    for entry in fs::read_dir(&home).unwrap() {
        let path = entry.unwrap().path();
        let mode = if path.is_dir() { 0o555 } else { 0o444 };
        fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
    }
    let run = |arguments: &[&str]| {
        let mut command = place.command(arguments);
        // To the superuser nothing is forbidden; 65534 is nobody.
        if fs::metadata(&home).unwrap().uid() == 0 {
            command.uid(65534);
        }
        command.output().map(|output| Said::of(&output))
    };
    let only_read = ["plan", "site.toml", "--date", DAY];
    let rows: [(&[&str], i32, &str); 7] = [
        (&only_read, 0, ""),
        (&["outlook", "site.toml"], 0, ""),
        (&["book", "site.toml", "--verify"], 0, ""),
        (OUTLOOK, 1, "permission denied"),
        (FOLLOW, 1, "check the rights and the room"),
        (RECORD, 1, "so nothing was written: allow writing to it and to its folder"),
        (&["serve", "--list-keys"], 1, "check the rights"),
    ];
    let mut outcomes = Vec::new();
    for (arguments, code, part) in rows {
        let Ok(said) = run(arguments) else { break };
        outcomes.push((arguments, code, part, said));
    }
    for folder in [&root, &home] {
        fs::set_permissions(folder, Permissions::from_mode(0o755)).unwrap();
    }
    if outcomes.is_empty() {
        return skip("nobody but the superuser can start the binary");
    }
    for (arguments, code, part, said) in outcomes {
        said.is_orderly(&format!("{arguments:?}"));
        assert_eq!(said.code, Some(code), "{arguments:?}: {}", said.err);
        let told = said.out + &said.err;
        assert!(told.contains(part), "{arguments:?}: {told}");
        assert!(!told.contains(".fairseam-"), "no name that nobody has asked for: {told}");
    }
    assert!(place.read("crew.ics") == published);
}

#[test]
fn without_a_home_folder_there_is_a_sentence_or_the_one_of_the_account() {
    let place = Place::new();
    // A user without an entry, hence without a folder; only the superuser can become one.
    let is_root = fs::metadata(place.home()).unwrap().uid() == 0;
    fs::set_permissions(place.path("."), Permissions::from_mode(0o755)).unwrap();
    for arguments in [&["plan", "site.toml", "--date", DAY][..], FOLLOW, OUTLOOK, RECORD] {
        if is_root {
            let mut command = place.command(arguments);
            command.env_remove("FAIRSEAM_HOME").uid(54_321).gid(54_321);
            let Ok(output) = command.output() else {
                return skip("another user cannot start the binary");
            };
            let said = Said::of(&output);
            said.is_orderly(&format!("{arguments:?}"));
            assert!(said.err.contains("set `FAIRSEAM_HOME` to a folder"), "{}", said.err);
        }
        // A file stands where the data folder should be.
        fs::write(place.path("file"), "").unwrap();
        let said = Said::of(
            &place.command(arguments).env("FAIRSEAM_HOME", place.path("file")).output().unwrap(),
        );
        said.is_orderly(&format!("{arguments:?}"));
        assert!(said.err.contains("could not be opened") || said.code == Some(0), "{}", said.err);
    }
    if !is_root {
        skip("only the superuser can become a user without a home folder");
    }
}

#[test]
fn zone_data_and_locale_of_the_machine_change_nothing() {
    let around = [
        ("TZ", "Foo/Bar"),
        ("TZ", ":/dev/zero"),
        ("TZ", ""),
        ("TZDIR", "/nonexistent"),
        ("LANG", "C"),
        ("LC_ALL", "xx_YY.no-such"),
        ("LC_ALL", "\u{1b}[31m"),
        ("LANGUAGE", "tlh"),
    ];
    for arguments in [PLAN, RECORD, FOLLOW, OUTLOOK] {
        let place = Place::new();
        let before = place.snapshot();
        let written = || [place.read("day.ics"), place.read("crew.ics")].map(to_the_minute);
        let expected = (to_the_minute(Some(place.works(arguments).into_bytes())), written());
        for (name, value) in around {
            place.put_back(&before);
            let said = Said::of(&place.command(arguments).env(name, value).output().unwrap());
            let told = to_the_minute(Some(said.out.into_bytes()));
            assert_eq!((said.code, &told), (Some(0), &expected.0), "{name}={value}");
            assert!(written() == expected.1, "{name}={value}");
        }
    }
}

/// Without the seconds that a follower's clock has gone on since 18:00 on the site's (23:00 UTC).
fn to_the_minute(bytes: Option<Vec<u8>>) -> String {
    let text = String::from_utf8(bytes.unwrap_or_default()).unwrap();
    let mut cut = String::new();
    let mut rest = text.as_str();
    while let Some(at) =
        ["T23:00:", "T2300"].iter().filter_map(|mark| Some(rest.find(mark)? + mark.len())).min()
    {
        let (before, after) = rest.split_at(at);
        cut.push_str(before);
        rest = after.trim_start_matches(|sign: char| sign.is_ascii_digit());
    }
    cut + rest
}

#[cfg(target_os = "linux")]
#[test]
fn whoever_listens_to_stdout_and_stderr_may_be_gone_or_full() {
    let version = ["--version"];
    for streams in
        [">&-", "2>&-", ">&- 2>&-", ">/dev/full", "2>/dev/full", ">/dev/full 2>/dev/full"]
    {
        for arguments in [PLAN, RECORD, FOLLOW, OUTLOOK, &version] {
            let place = Place::new();
            let said = Said::of(&place.shell(":", streams, arguments).output().unwrap());
            let what = format!("{arguments:?} {streams}");
            assert!(matches!(said.code, Some(0 | 1)), "{what}: {said:?}");
            assert!(!said.err.contains("panicked"), "{what}: {}", said.err);
            // A result that reached nobody is no success, and is said where it can be.
            if streams == ">/dev/full" && [PLAN, RECORD].contains(&arguments) {
                assert_eq!(said.code, Some(1), "{what}");
                assert!(said.err.contains("cannot be written to stdout"), "{what}: {}", said.err);
            }
            if arguments == FOLLOW {
                assert!(place.read("crew.ics").is_some(), "{what}: the crew has its plan");
            }
            if arguments == RECORD {
                assert_eq!(place.book_entries(), 1, "{what}");
            }
        }
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_server_goes_on_when_its_log_has_no_room() {
    for streams in ["2>/dev/full", "2>&-", ">&- 2>&-"] {
        for log in ["text", "json"] {
            let place = Place::new();
            let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
            let address = format!("127.0.0.1:{port}");
            let arguments = ["serve", "site.toml", "--listen", &address, "--log", log];
            let mut command = place.shell(":", streams, &arguments);
            let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
            for _ in 0..3 {
                assert!(ask(&address).starts_with("HTTP/1.1 200"), "{streams} {log}");
            }
            let id = child.id().to_string();
            assert!(Command::new("kill").args(["-TERM", &id]).status().unwrap().success());
            assert_eq!(child.wait().unwrap().code(), Some(0), "{streams} {log}");
        }
    }
}

/// Asks once the server is there.
#[cfg(target_os = "linux")]
fn ask(address: &str) -> String {
    let started = Instant::now();
    let mut stream = loop {
        match TcpStream::connect(address) {
            Ok(stream) => break stream,
            Err(error) => assert!(started.elapsed() < Duration::from_secs(20), "{error}"),
        }
        std::thread::sleep(Duration::from_millis(10));
    };
    let mut answer = String::new();
    stream.write_all(b"GET /healthz HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n").unwrap();
    let _ = stream.read_to_string(&mut answer);
    answer
}
