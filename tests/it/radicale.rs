//! A real calendar server on this machine: `radicale`, started by the test.

use std::fs;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use reqwest::{Method, header};

use crate::book_store_sample::run;
use crate::support::skip;

pub(crate) const LOGIN: &str = "foreman:s3cret";

pub(crate) fn python() -> String {
    std::env::var("FAIRSEAM_PYTHON").unwrap_or_else(|_| "python3".to_owned())
}

/// Whether the interpreter has these packages; says `SKIPPED` where it does not.
pub(crate) fn has_packages(names: &str) -> bool {
    let probe = Command::new(python()).args(["-c", &format!("import {names}")]).output();
    let there = probe.is_ok_and(|output| output.status.success());
    if !there {
        skip(&format!(
            "{} lacks {names} (pip install -r tests/calendar/requirements.txt, FAIRSEAM_PYTHON \
             names the program)",
            python()
        ));
    }
    there
}

/// A server with one calendar, `crew`, of the user `foreman`. It ends when it is dropped.
pub(crate) struct Radicale {
    folder: PathBuf,
    port: u16,
    child: Option<Child>,
}

impl Radicale {
    pub(crate) fn start(folder: &Path) -> Self {
        // Free a moment ago, which is as good as it gets.
        let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let folder = folder.join("radicale");
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("users"), format!("{LOGIN}\n")).unwrap();
        let config = format!(
            "[server]\nhosts = 127.0.0.1:{port}\n[auth]\ntype = htpasswd\nhtpasswd_filename = {0}/users\n\
             htpasswd_encryption = plain\ndelay = 0\n[rights]\ntype = owner_only\n[storage]\n\
             filesystem_folder = {0}/collections\n[web]\ntype = none\n[logging]\nlevel = warning\n",
            folder.display()
        );
        fs::write(folder.join("config"), config).unwrap();
        let mut server = Self { folder, port, child: None };
        server.up();
        let made = server.ask(Method::from_bytes(b"MKCALENDAR").unwrap(), "", None, "");
        assert_eq!(made.0, 201, "{made:?}");
        server
    }

    pub(crate) fn up(&mut self) {
        let log = fs::File::options().create(true).append(true).open(self.folder.join("log"));
        let child = Command::new(python())
            .args(["-m", "radicale", "--config"])
            .arg(self.folder.join("config"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(log.unwrap())
            .spawn()
            .unwrap();
        self.child = Some(child);
        let begun = Instant::now();
        while TcpStream::connect(("127.0.0.1", self.port)).is_err() {
            let log = || fs::read_to_string(self.folder.join("log")).unwrap_or_default();
            assert!(begun.elapsed() < Duration::from_secs(30), "no server: {}", log());
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    pub(crate) fn down(&mut self) {
        if let Some(mut child) = self.child.take() {
            let _ = child.kill();
            let _ = child.wait();
        }
    }

    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}/foreman/crew/", self.port)
    }

    pub(crate) fn root(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// Status, mark and body of one request by the foreman.
    pub(crate) fn ask(
        &self,
        method: Method,
        href: &str,
        condition: Option<(header::HeaderName, &str)>,
        body: &str,
    ) -> (u16, Option<String>, String) {
        let _ = rustls_once();
        run(async {
            let client = reqwest::Client::builder().no_proxy().build().unwrap();
            let (user, password) = LOGIN.split_once(':').unwrap();
            let mut request = client
                .request(method, format!("{}{href}", self.address()))
                .basic_auth(user, Some(password))
                .header(header::CONTENT_TYPE, "text/calendar; charset=utf-8")
                .body(body.to_owned());
            if let Some((name, value)) = condition {
                request = request.header(name, value);
            }
            let response = request.send().await.unwrap();
            let etag = response.headers().get(header::ETAG);
            let etag = etag.map(|etag| etag.to_str().unwrap().to_owned());
            let status = response.status().as_u16();
            let mut bytes = Vec::new();
            let mut response = response;
            while let Some(chunk) = response.chunk().await.unwrap() {
                bytes.extend_from_slice(&chunk);
            }
            (status, etag, String::from_utf8(bytes).unwrap())
        })
    }

    pub(crate) fn get(&self, href: &str) -> Option<String> {
        let (status, _, body) = self.ask(Method::GET, href, None, "");
        (status == 200).then_some(body)
    }

    /// Everything in the calendar, by the names of the server's own files.
    pub(crate) fn all(&self) -> Vec<(String, String)> {
        let folder = self.folder.join("collections/collection-root/foreman/crew");
        let mut files: Vec<(String, String)> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|end| end == "ics"))
            .map(|path| {
                let name = path.file_name().unwrap().to_str().unwrap().to_owned();
                let body = self.get(&name).unwrap();
                (name, body)
            })
            .collect();
        files.sort();
        files
    }
}

fn rustls_once() -> Result<(), std::sync::Arc<rustls::crypto::CryptoProvider>> {
    rustls::crypto::ring::default_provider().install_default()
}

impl Drop for Radicale {
    fn drop(&mut self) {
        self.down();
    }
}
