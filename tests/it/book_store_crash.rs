//! The test-weld book in a process of its own: killed at any moment, without room, without rights.

use std::io::{BufRead, BufReader, Lines, Write};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

use fairseam::store::book::{BookFault, SqliteBook, entries, record};

use super::book_store_sample::{assert_holds, filled, note, open, run, trial_entry};

/// Where the child finds its book, and how many entries it writes at most.
const HOME: &str = "FAIRSEAM_TEST_BOOK_HOME";
const MOST: &str = "FAIRSEAM_TEST_BOOK_MOST";
/// Times that a writing process is killed.
const KILLS: u64 = 60;

/// The child: reads the book, then writes entries until it is stopped, and prints the number of
/// each that was acknowledged. Does nothing where it is run as a test of its own.
#[test]
#[ignore = "started by the tests below"]
fn child_writes_until_it_is_stopped() {
    let (Ok(home), Ok(most)) = (std::env::var(HOME), std::env::var(MOST)) else { return };
    let home = Path::new(&home);
    let say = |text: String| {
        let mut out = std::io::stdout();
        writeln!(out, "{text}").unwrap();
        out.flush().unwrap();
    };
    let outcome: Result<(), BookFault> = run(async {
        if let Some(book) = SqliteBook::open_to_read(home).await? {
            say(format!("read {}", entries(&book, None).await?.len()));
        }
        let book = SqliteBook::open(home).await?;
        for minutes in 0..most.parse::<i64>().unwrap() {
            let new = if minutes % 2 == 0 { trial_entry(minutes) } else { note(minutes) };
            let appended = record(&book, &new).await?;
            say(format!("acknowledged {} {}", appended.id, appended.hash));
        }
        Ok(())
    });
    if let Err(fault) = outcome {
        say(format!("fault {fault}"));
    }
}

/// This test program, told to be the child; `program` may be something that then starts it.
fn child(program: &mut Command, home: &Path, most: u32) -> std::io::Result<Child> {
    program
        .args(["book_store_crash::child_writes_until_it_is_stopped", "--exact", "--ignored"])
        .args(["--nocapture", "--test-threads=1"])
        .env(HOME, home)
        .env(MOST, most.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
}

fn this_program() -> std::path::PathBuf {
    std::env::current_exe().unwrap()
}

/// What a child says, line by line.
struct Talk {
    lines: Lines<BufReader<ChildStdout>>,
    /// Number and hash of every acknowledged entry.
    acknowledged: Vec<(u64, String)>,
    fault: Option<String>,
    read: Option<u64>,
}

impl Talk {
    fn of(child: &mut Child) -> Self {
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        Self { lines, acknowledged: Vec::new(), fault: None, read: None }
    }

    /// Takes the next line; `false` after the last one.
    fn hear(&mut self) -> bool {
        let Some(Ok(line)) = self.lines.next() else { return false };
        // The test program's own talk may stand before on the same line, and a kill may cut one off.
        if let Some((_, rest)) = line.split_once("acknowledged ")
            && let Some((id, hash)) = rest.split_once(' ')
            && hash.len() == 64
        {
            self.acknowledged.push((id.parse().unwrap(), hash.to_owned()));
        } else if let Some((_, text)) = line.split_once("fault ") {
            self.fault = Some(text.to_owned());
        } else if let Some((_, count)) = line.split_once("read ") {
            self.read = count.parse().ok();
        }
        true
    }

    fn hear_all(mut self) -> Self {
        while self.hear() {}
        self
    }
}

/// Moments that differ from run to run would make a failure hard to repeat: a fixed sequence that
/// looks like chance, in microseconds.
fn moments() -> impl Iterator<Item = Duration> {
    let mut state = 88_172_645_463_325_252_u64;
    std::iter::repeat_with(move || {
        // Marsaglia's xorshift with 13, 7, 17.
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        Duration::from_micros(state % 40_000)
    })
}

#[test]
fn what_was_acknowledged_survives_a_kill_at_any_moment() {
    let home = tempfile::tempdir().unwrap();
    let mut acknowledged: Vec<(u64, String)> = Vec::new();
    for (round, moment) in (0..KILLS).zip(moments()) {
        // Now and then two at once.
        let count = if round % 5 == 4 { 2 } else { 1 };
        let mut children: Vec<Child> = (0..count)
            .map(|_| child(&mut Command::new(this_program()), home.path(), u32::MAX).unwrap())
            .collect();
        let mut talks: Vec<Talk> = children.iter_mut().map(Talk::of).collect();
        // Every other one is killed somewhere in its start, the rest while they write.
        if round % 2 == 1 {
            while talks[0].acknowledged.is_empty() && talks[0].hear() {}
        }
        std::thread::sleep(moment);
        for (mut child, talk) in children.into_iter().zip(talks) {
            child.kill().unwrap();
            let talk = talk.hear_all();
            child.wait().unwrap();
            assert_eq!(talk.fault, None);
            acknowledged.extend(talk.acknowledged);
        }
        if round % 6 == 5 {
            assert_all_there(home.path(), &acknowledged);
        }
    }
    assert!(acknowledged.len() as u64 > KILLS / 2, "only {} were written", acknowledged.len());
    assert_all_there(home.path(), &acknowledged);
}

fn assert_all_there(home: &Path, acknowledged: &[(u64, String)]) {
    if acknowledged.is_empty() {
        return;
    }
    run(async {
        use fairseam::store::book::BookStore;
        let book = open(home).await;
        let count = book.head().await.unwrap().map_or(0, |head| head.entry.0);
        assert_holds(&book, count).await;
        let kept = book.page(0, u32::MAX, None).await.unwrap();
        for (number, hash) in acknowledged {
            let entry = number.checked_sub(1).and_then(|at| kept.get(usize::try_from(at).unwrap()));
            assert_eq!(entry.map(|entry| &entry.hash), Some(hash), "entry {number} is lost");
        }
        book.close().await;
    });
}

/// A file may grow to some size and no further: the system's own limit stands for the full disk.
#[cfg(unix)]
#[test]
fn a_disk_that_fills_up_while_writing_costs_nothing_that_was_acknowledged() {
    let home = tempfile::tempdir().unwrap();
    let mut shell = Command::new("sh");
    // Without the trap the signal would end the process before it can say anything.
    shell.args(["-c", "trap '' XFSZ; ulimit -f 600; exec \"$0\" \"$@\""]).arg(this_program());
    let mut child = child(&mut shell, home.path(), 100_000).unwrap();
    let Talk { acknowledged, fault, .. } = Talk::of(&mut child).hear_all();
    child.wait().unwrap();
    let fault = fault.unwrap();
    assert!(fault.contains("so nothing was recorded: make room on the disk"), "{fault}");
    assert!(acknowledged.len() > 10, "only {} were written", acknowledged.len());
    assert_all_there(home.path(), &acknowledged);
    run(async {
        let book = open(home.path()).await;
        let count = entries(&book, None).await.unwrap().len() as u64;
        record(&book, &note(1)).await.unwrap();
        assert_holds(&book, count + 1).await;
    });
}

/// Neither the file nor its folder may be written: reading works, writing is refused in words.
#[cfg(unix)]
#[test]
fn a_book_that_can_only_be_read_is_read() {
    use std::fs::{Permissions, metadata, set_permissions};
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    let home = tempfile::tempdir().unwrap();
    run(async { filled(home.path(), 5).await.close().await });
    let file = home.path().join("book.sqlite3");
    set_permissions(&file, Permissions::from_mode(0o444)).unwrap();
    set_permissions(home.path(), Permissions::from_mode(0o555)).unwrap();
    let mut program = Command::new(this_program());
    // To the superuser nothing is forbidden; 65534 is nobody.
    if metadata(&file).unwrap().uid() == 0 {
        program.uid(65534);
    }
    let talk = child(&mut program, home.path(), 1).map(|mut child| {
        let talk = Talk::of(&mut child).hear_all();
        child.wait().unwrap();
        talk
    });
    set_permissions(home.path(), Permissions::from_mode(0o755)).unwrap();
    let Ok(talk) = talk else {
        let reason = "nobody but the superuser can start this test program";
        writeln!(std::io::stderr(), "SKIPPED: {reason}").unwrap();
        return;
    };
    assert_eq!(talk.read, Some(5));
    assert_eq!(talk.acknowledged, []);
    let fault = talk.fault.unwrap();
    let (only, opened) = ("can only be read, so nothing was written", "could not be opened");
    assert!(fault.contains(only) || fault.contains(opened), "{fault}");
}
