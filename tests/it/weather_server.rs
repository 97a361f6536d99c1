//! A small web server that answers what a test tells it to, and remembers what it was asked.
//!
//! Ensembles have answers of their own, so that a test of forecasts need not count them: a good one
//! unless the test says otherwise.

use std::collections::VecDeque;
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// One answer.
#[derive(Clone)]
pub(crate) struct Canned {
    status: &'static str,
    headers: Vec<(String, String)>,
    body: Vec<u8>,
    manner: Manner,
}

/// How the body travels.
#[derive(Clone, Copy, PartialEq)]
enum Manner {
    Plain,
    Chunked,
    /// A byte at a time, without end.
    Drip,
    /// As fast as it goes, without end.
    Endless,
    /// Half of what was announced.
    CutShort,
}

impl Canned {
    pub(crate) fn json(body: &str) -> Self {
        Self::new("200 OK", "application/json", body.as_bytes())
    }

    pub(crate) fn new(status: &'static str, content_type: &str, body: &[u8]) -> Self {
        let headers = vec![("Content-Type".to_owned(), content_type.to_owned())];
        Self { status, headers, body: body.to_vec(), manner: Manner::Plain }
    }

    /// An answer without a body.
    pub(crate) fn bare(status: &'static str) -> Self {
        Self { status, headers: Vec::new(), body: Vec::new(), manner: Manner::Plain }
    }

    pub(crate) fn header(mut self, name: &str, value: &str) -> Self {
        self.headers.push((name.to_owned(), value.to_owned()));
        self
    }

    pub(crate) fn chunked(self) -> Self {
        Self { manner: Manner::Chunked, ..self }
    }

    pub(crate) fn drip(self) -> Self {
        Self { manner: Manner::Drip, ..self }
    }

    pub(crate) fn endless(self) -> Self {
        Self { manner: Manner::Endless, ..self }
    }

    pub(crate) fn cut_short(self) -> Self {
        Self { manner: Manner::CutShort, ..self }
    }

    pub(crate) fn gzip(mut self) -> Self {
        let mut packer = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
        packer.write_all(&self.body).unwrap();
        self.body = packer.finish().unwrap();
        self.header("Content-Encoding", "gzip")
    }
}

/// One question, as it came.
#[derive(Debug, Clone)]
pub(crate) struct Asked {
    pub(crate) path: String,
    head: String,
}

impl Asked {
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().skip(1).find_map(|line| {
            let (found, value) = line.split_once(':')?;
            found.eq_ignore_ascii_case(name).then(|| value.trim())
        })
    }
}

/// The server; it ends when it is dropped.
pub(crate) struct Server {
    address: SocketAddr,
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

pub(crate) const ENSEMBLE: &str = include_str!("../fixtures/open-meteo/invented_ensemble.json");

#[derive(Default)]
struct Shared {
    answers: Mutex<VecDeque<Canned>>,
    ensembles: Mutex<VecDeque<Canned>>,
    asked: Mutex<Vec<Asked>>,
    connections: AtomicUsize,
    sent: AtomicUsize,
    stop: AtomicBool,
}

impl Server {
    /// Gives `answers` in their order, then status 500 to whoever still asks.
    pub(crate) fn start(answers: impl IntoIterator<Item = Canned>) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = listener.local_addr().unwrap();
        let shared = Arc::new(Shared::default());
        shared.answers.lock().unwrap().extend(answers);
        let thread = {
            let shared = Arc::clone(&shared);
            thread::spawn(move || {
                for stream in listener.incoming() {
                    if shared.stop.load(Ordering::SeqCst) {
                        return;
                    }
                    shared.connections.fetch_add(1, Ordering::SeqCst);
                    let (shared, stream) = (Arc::clone(&shared), stream.unwrap());
                    thread::spawn(move || serve(stream, &shared));
                }
            })
        };
        Self { address, shared, thread: Some(thread) }
    }

    pub(crate) fn base(&self) -> String {
        format!("http://{}", self.address)
    }

    pub(crate) fn then(&self, answers: impl IntoIterator<Item = Canned>) {
        self.shared.answers.lock().unwrap().extend(answers);
    }

    /// Answers to the next questions about an ensemble.
    pub(crate) fn ensembles(&self, answers: impl IntoIterator<Item = Canned>) {
        self.shared.ensembles.lock().unwrap().extend(answers);
    }

    pub(crate) fn asked(&self) -> Vec<Asked> {
        self.shared.asked.lock().unwrap().clone()
    }

    /// Paths of all questions, without their queries.
    pub(crate) fn paths(&self) -> Vec<String> {
        let path = |asked: &Asked| asked.path.split('?').next().unwrap().to_owned();
        self.asked().iter().map(path).collect()
    }

    pub(crate) fn connections(&self) -> usize {
        self.shared.connections.load(Ordering::SeqCst)
    }

    /// How often it was asked for this path.
    pub(crate) fn times_asked(&self, path: &str) -> usize {
        self.paths().iter().filter(|asked| *asked == path).count()
    }

    /// Bytes of bodies that were taken off this server's hands.
    pub(crate) fn sent(&self) -> usize {
        self.shared.sent.load(Ordering::SeqCst)
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.shared.stop.store(true, Ordering::SeqCst);
        let _ = TcpStream::connect(self.address);
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

fn serve(mut stream: TcpStream, shared: &Shared) {
    let Some(head) = read_head(&mut stream) else { return };
    let path = head.split_whitespace().nth(1).unwrap_or_default().to_owned();
    let is_ensemble = path.starts_with("/v1/ensemble");
    shared.asked.lock().unwrap().push(Asked { path, head });
    let answer = if is_ensemble {
        let next = shared.ensembles.lock().unwrap().pop_front();
        next.unwrap_or_else(|| Canned::json(ENSEMBLE))
    } else {
        let next = shared.answers.lock().unwrap().pop_front();
        next.unwrap_or_else(|| Canned::bare("500 Internal Server Error"))
    };
    let _ = answer_with(&mut stream, &answer, shared);
}

fn read_head(stream: &mut TcpStream) -> Option<String> {
    let mut head = Vec::new();
    let mut byte = [0];
    while !head.ends_with(b"\r\n\r\n") {
        match stream.read(&mut byte) {
            // A TLS handshake begins with 22: nothing that this server could answer.
            Ok(1) if head.is_empty() && byte[0] == 22 => return None,
            Ok(1) => head.push(byte[0]),
            _ => return None,
        }
    }
    String::from_utf8(head).ok()
}

fn answer_with(stream: &mut TcpStream, answer: &Canned, shared: &Shared) -> std::io::Result<()> {
    let mut head = format!("HTTP/1.1 {}\r\nConnection: close\r\n", answer.status);
    for (name, value) in &answer.headers {
        head.push_str(&format!("{name}: {value}\r\n"));
    }
    let announced = match answer.manner {
        Manner::Plain => Some(answer.body.len()),
        Manner::CutShort => Some(answer.body.len() * 2),
        Manner::Chunked | Manner::Drip | Manner::Endless => None,
    };
    if answer.manner == Manner::Chunked {
        head.push_str("Transfer-Encoding: chunked\r\n");
    }
    if let Some(length) = announced {
        head.push_str(&format!("Content-Length: {length}\r\n"));
    }
    head.push_str("\r\n");
    stream.write_all(head.as_bytes())?;
    match answer.manner {
        Manner::Plain | Manner::CutShort => stream.write_all(&answer.body)?,
        Manner::Chunked => {
            for chunk in answer.body.chunks(100) {
                stream.write_all(format!("{:x}\r\n", chunk.len()).as_bytes())?;
                stream.write_all(chunk)?;
                stream.write_all(b"\r\n")?;
            }
            stream.write_all(b"0\r\n\r\n")?;
        }
        Manner::Drip => loop {
            stream.write_all(b" ")?;
            thread::sleep(Duration::from_millis(20));
        },
        Manner::Endless => loop {
            stream.write_all(&[b' '; 64 << 10])?;
            shared.sent.fetch_add(64 << 10, Ordering::SeqCst);
        },
    }
    Ok(())
}
