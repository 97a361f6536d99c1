//! `fairseam serve` as it is started: keys, addresses, TLS, the log, the end.
#![cfg(unix)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;

use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, ServerName};

use crate::binary::{Run, fairseam_at};
use crate::server_support::{MORNING, site_file};
use crate::support::fixture;

fn serve(home: &Path, arguments: &[&str]) -> Run {
    fairseam_at(home, &[&["serve"], arguments].concat(), MORNING)
}

/// A server as a process of its own.
pub(crate) struct Process {
    child: Child,
    address: SocketAddr,
    log: Option<std::thread::JoinHandle<String>>,
}

impl Process {
    fn start(home: &Path, arguments: &[&str]) -> Self {
        Self::start_at(home, arguments, MORNING)
    }

    pub(crate) fn start_at(home: &Path, arguments: &[&str], now: &str) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_fairseam"))
            .args([&["serve", "--listen", "127.0.0.1:0", "--log", "json"], arguments].concat())
            .env_clear()
            .env("FAIRSEAM_HOME", home)
            .env("FAIRSEAM_NOW", now)
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stderr.take().unwrap());
        let mut log = String::new();
        let address = loop {
            let before = log.len();
            assert!(lines.read_line(&mut log).unwrap() > 0, "it ended: {log}");
            let said = log[before..].split("://").nth(1);
            if let Some(address) = said.and_then(|rest| rest.split('/').next()) {
                break address.parse().unwrap();
            }
        };
        let log = std::thread::spawn(move || {
            lines.read_to_string(&mut log).unwrap();
            log
        });
        Self { child, address, log: Some(log) }
    }

    pub(crate) fn ask(&self, request: &str) -> String {
        let mut stream = TcpStream::connect(self.address).unwrap();
        stream.write_all(request.as_bytes()).unwrap();
        let mut answer = String::new();
        let _ = stream.read_to_string(&mut answer);
        answer
    }

    /// Ends it as a service manager does; its exit code and all that it has logged.
    fn end(mut self) -> (Option<i32>, String) {
        let id = self.child.id().to_string();
        assert!(Command::new("kill").args(["-TERM", &id]).status().unwrap().success());
        let code = self.child.wait().unwrap().code();
        (code, self.log.take().unwrap().join().unwrap())
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn a_key_is_shown_once_listed_without_itself_and_taken_back() {
    let home = tempfile::tempdir().unwrap();
    let site = site_file(&home, "roof-a", "\"Roof A\"");
    let site = site.to_str().unwrap();
    let crew = serve(
        home.path(),
        &["--new-key", site, "--for", "crew", "--holder", "crew A", "--days", "30"],
    );
    assert_eq!(crew.code, 0, "{}", crew.stderr);
    let key = crew.stdout.trim().strip_prefix("http://127.0.0.1:8790/enter#").unwrap().to_owned();
    assert_eq!(key.len(), 52);
    assert!(crew.stderr.contains("until 2027-05-21 13:30 UTC"), "{}", crew.stderr);
    let feed = serve(
        home.path(),
        &[
            "--new-key",
            site,
            "--for",
            "feed",
            "--holder",
            "phone",
            "--url",
            "https://welds.example.com/",
        ],
    );
    assert!(feed.stdout.starts_with("https://welds.example.com/feeds/roof-a/"), "{}", feed.stdout);
    let office = serve(home.path(), &["--new-key", "--for", "office", "--holder", "office M"]);
    assert_eq!(office.code, 0, "{}", office.stderr);
    // Neither the key nor its first half stands in any file.
    for entry in std::fs::read_dir(home.path()).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            let bytes = std::fs::read(&path).unwrap();
            let has = bytes.windows(26).any(|window| window == &key.as_bytes()[..26]);
            assert!(!has, "{path:?} holds the key");
        }
    }
    use std::os::unix::fs::PermissionsExt;
    let kept = std::fs::metadata(home.path().join("keys.sqlite3")).unwrap();
    assert_eq!(kept.permissions().mode() & 0o777, 0o600);
    let list = serve(home.path(), &["--list-keys"]).stdout;
    assert_eq!(list.lines().count(), 3, "{list}");
    assert!(list.contains("crew    valid    until 2027-05-21  roof-a            crew A"), "{list}");
    assert!(list.contains("all sites         office M"), "{list}");
    assert!(!list.contains(&key[..8]), "{list}");
    assert_eq!(serve(home.path(), &["--revoke", "1"]).code, 0);
    assert!(serve(home.path(), &["--list-keys"]).stdout.contains("crew    revoked"));
    let unknown = serve(home.path(), &["--revoke", "9"]);
    assert_eq!(unknown.code, 1);
    assert!(unknown.stderr.contains("there is no key 9"), "{}", unknown.stderr);
}

#[test]
fn what_would_be_unsafe_or_makes_no_sense_is_refused_in_a_sentence() {
    let home = tempfile::tempdir().unwrap();
    let site = site_file(&home, "roof-a", "\"Roof A\"");
    let site = site.to_str().unwrap();
    let (cert, key) = (fixture("tls/cert.pem"), fixture("tls/key.pem"));
    for (arguments, code, part) in [
        (vec![site, "--listen", "0.0.0.0:0"], 1, "keys would travel for all to read"),
        (vec![site, "--listen", "[::]:0"], 1, "keys would travel for all to read"),
        (vec![site, "--tls-cert", &cert], 2, "--tls-key"),
        (vec![site, "--tls-cert", &key, "--tls-key", &key], 1, "expected certificates in PEM"),
        (vec![site, "--tls-cert", &cert, "--tls-key", site], 1, "cannot be used for TLS"),
        (
            vec![site, site, "--listen", "127.0.0.1:1", "--behind-proxy", "--tls-cert", &cert],
            2,
            "cannot be used with",
        ),
        (vec![], 2, "SITE"),
        (vec!["--new-key", "--for", "crew", "--holder", "x"], 1, "name its file"),
        (vec!["--new-key", site, "--for", "crew", "--holder", " "], 1, "`--holder`"),
        (vec!["--new-key", site, "--for", "crew", "--holder", "a\u{1b}[2J"], 1, "`--holder`"),
        (
            vec!["--new-key", site, "--for", "crew", "--holder", "x", "--days", "9999"],
            1,
            "`--days`",
        ),
        (vec!["--new-key", site, "--holder", "x"], 2, "--for"),
    ] {
        let run = serve(home.path(), &arguments);
        assert_eq!(run.code, code, "{arguments:?}: {}", run.stderr);
        assert!(run.stderr.contains(part), "{arguments:?}: {}", run.stderr);
    }
    let copy = home.path().join("copy.toml");
    std::fs::copy(site, &copy).unwrap();
    let twice = serve(home.path(), &[site, copy.to_str().unwrap()]);
    assert!(twice.stderr.contains("are one site"), "{}", twice.stderr);
}

#[test]
fn the_log_names_every_request_and_no_key_and_sigterm_ends_it_cleanly() {
    let home = tempfile::tempdir().unwrap();
    let site = site_file(&home, "roof-a", "\"Roof A\"");
    let site = site.to_str().unwrap();
    let made = |role| {
        let run =
            serve(home.path(), &["--new-key", site, "--for", role, "--holder", "secret holder"]);
        run.stdout.trim().to_owned()
    };
    let feed = made("feed");
    let feed = feed.split("8790").nth(1).unwrap().to_owned();
    let crew = made("crew").split('#').nth(1).unwrap().to_owned();
    let server = Process::start(home.path(), &[site]);
    let close = "Host: x\r\nConnection: close\r\n";
    let whole = server.ask(&format!("GET {feed} HTTP/1.1\r\n{close}\r\n"));
    assert!(whole.starts_with("HTTP/1.1 200") && whole.contains("BEGIN:VEVENT"), "{whole}");
    let body = format!("key={crew}");
    let length = body.len();
    let entered = server
        .ask(&format!("POST /enter HTTP/1.1\r\n{close}Content-Length: {length}\r\n\r\n{body}"));
    assert!(entered.starts_with("HTTP/1.1 303"), "{entered}");
    server.ask(&format!("GET /feeds/roof-a/{crew}.ics?key={crew} HTTP/1.1\r\n{close}\r\n"));
    server.ask(&format!("GET /nowhere/{crew} HTTP/1.1\r\n{close}\r\n"));
    let (code, log) = server.end();
    assert_eq!(code, Some(0), "{log}");
    let feed_key = feed.rsplit('/').next().unwrap().trim_end_matches(".ics");
    for secret in [feed_key, &crew, "secret holder"] {
        assert!(!log.contains(secret), "{secret} stands in the log:\n{log}");
    }
    let lines: Vec<serde_json::Value> =
        log.lines().skip(1).map(|line| serde_json::from_str(line).unwrap()).collect();
    let answered: Vec<_> = lines.iter().filter(|line| line["message"] == "answered").collect();
    assert_eq!(answered.len(), 4, "{log}");
    assert_eq!(answered[0]["route"], "/feeds/{site}/{file}");
    assert_eq!((&answered[0]["status"], &answered[3]["status"]), (&200.into(), &404.into()));
    let id = whole.lines().find_map(|line| line.strip_prefix("x-request-id: ")).unwrap();
    assert_eq!(answered[0]["request"], id);
}

#[test]
fn it_speaks_tls_and_then_keeps_its_cookie_to_tls() {
    let home = tempfile::tempdir().unwrap();
    let site = site_file(&home, "roof-a", "\"Roof A\"");
    let site = site.to_str().unwrap();
    let crew =
        serve(home.path(), &["--new-key", site, "--for", "crew", "--holder", "crew A"]).stdout;
    let body = format!("key={}", crew.trim().split('#').nth(1).unwrap());
    let cert = fixture("tls/cert.pem");
    let server = Process::start(
        home.path(),
        &[site, "--tls-cert", &cert, "--tls-key", &fixture("tls/key.pem")],
    );
    let mut roots = rustls::RootCertStore::empty();
    roots.add(CertificateDer::from_pem_file(&cert).unwrap()).unwrap();
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let config = rustls::ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .unwrap()
        .with_root_certificates(roots)
        .with_no_client_auth();
    let name = ServerName::try_from("localhost").unwrap();
    let client = rustls::ClientConnection::new(Arc::new(config), name).unwrap();
    let mut tls = rustls::StreamOwned::new(client, TcpStream::connect(server.address).unwrap());
    let length = body.len();
    let asked = format!(
        "POST /enter HTTP/1.1\r\nHost: x\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n{body}"
    );
    tls.write_all(asked.as_bytes()).unwrap();
    let mut answer = String::new();
    let _ = tls.read_to_string(&mut answer);
    assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
    let cookie = answer.lines().find(|line| line.starts_with("set-cookie")).unwrap();
    assert!(cookie.contains("; Secure"), "{cookie}");
    // Plain HTTP gets nothing from it.
    assert_eq!(server.ask("GET /healthz HTTP/1.1\r\nHost: x\r\n\r\n").find("200"), None);
}
