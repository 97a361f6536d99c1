//! The sockets: who may connect, for how long, and how it all ends.

use std::io;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::pin::pin;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::{Service, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::TcpListener;
use tokio::sync::{Semaphore, watch};
use tokio_rustls::TlsAcceptor;

use super::app::App;
use super::front::Peer;
use super::{refresh, router};

/// How long it may take to agree on TLS.
const HANDSHAKE_PATIENCE: Duration = Duration::from_secs(10);
/// Bytes of a request's head at most.
const LARGEST_HEAD: usize = 16 << 10;
/// A connection ends after this, whatever it does; a live page asks again well before.
const LONGEST_CONNECTION: Duration = Duration::from_secs(2 * 60 * 60);
/// How long answers under way may take once the server is to end.
const LAST_ANSWERS: Duration = Duration::from_secs(10);

/// Why the server cannot listen.
#[derive(Debug, thiserror::Error)]
pub enum ListenFault {
    /// The address is taken, or is not this machine's.
    #[error("cannot listen at {address}: {cause}")]
    Address {
        /// As given.
        address: SocketAddr,
        /// What the system says.
        cause: io::Error,
    },
    /// A file of TLS cannot be used.
    #[error("`{}` cannot be used for TLS: {cause}", path.display())]
    Tls {
        /// The file.
        path: PathBuf,
        /// What was expected and what was found.
        cause: String,
    },
}

/// TLS of our own.
#[derive(Clone)]
pub struct Tls(TlsAcceptor);

/// A socket that is listened at.
pub struct Listener {
    tcp: TcpListener,
    tls: Option<Tls>,
    address: SocketAddr,
}

impl Tls {
    /// From a certificate chain and its private key, both PEM.
    ///
    /// # Errors
    /// [`ListenFault::Tls`].
    pub fn load(certificates: &Path, key: &Path) -> Result<Self, ListenFault> {
        let fault = |path: &Path, cause: String| ListenFault::Tls { path: path.to_owned(), cause };
        let chain = CertificateDer::pem_file_iter(certificates)
            .and_then(Iterator::collect::<Result<Vec<_>, _>>)
            .map_err(|cause| fault(certificates, cause.to_string()))?;
        if chain.is_empty() {
            let cause = "expected certificates in PEM, the server's own first, found none";
            return Err(fault(certificates, cause.to_owned()));
        }
        let private = PrivateKeyDer::from_pem_file(key);
        let private = private.map_err(|cause| fault(key, cause.to_string()))?;
        let provider = Arc::new(rustls::crypto::ring::default_provider());
        let config = rustls::ServerConfig::builder_with_provider(provider)
            .with_safe_default_protocol_versions()
            .and_then(|config| config.with_no_client_auth().with_single_cert(chain, private));
        let mut config = config.map_err(|cause| fault(certificates, cause.to_string()))?;
        config.alpn_protocols = vec![b"http/1.1".to_vec()];
        Ok(Self(TlsAcceptor::from(Arc::new(config))))
    }
}

impl Listener {
    /// Takes the address.
    ///
    /// # Errors
    /// [`ListenFault::Address`].
    pub async fn bind(address: SocketAddr, tls: Option<Tls>) -> Result<Self, ListenFault> {
        let fault = |cause| ListenFault::Address { address, cause };
        let tcp = TcpListener::bind(address).await.map_err(fault)?;
        let address = tcp.local_addr().map_err(fault)?;
        Ok(Self { tcp, tls, address })
    }

    /// Where it listens: the port as well where any was asked for.
    pub const fn address(&self) -> SocketAddr {
        self.address
    }
}

/// Answers until `stop` comes; then lets what is under way come to its end.
pub async fn run(app: Arc<App>, listener: Listener, stop: impl Future<Output = ()>) {
    let router = router(&app);
    let room = Arc::new(Semaphore::new(app.settings.most_connections as usize));
    let (tell_stop, stopping) = watch::channel(false);
    let current = tokio::spawn(refresh::keep_current(Arc::clone(&app)));
    let forecasts = tokio::spawn(refresh::keep_forecasts(Arc::clone(&app)));
    let mut stop = pin!(stop);
    loop {
        let permit = tokio::select! {
            () = &mut stop => break,
            permit = Arc::clone(&room).acquire_owned() => permit,
        };
        // The semaphore is never closed.
        let Ok(permit) = permit else { break };
        let accepted = tokio::select! {
            () = &mut stop => break,
            accepted = listener.tcp.accept() => accepted,
        };
        match accepted {
            Ok((stream, peer)) => {
                // Small answers go out at once.
                let _ = stream.set_nodelay(true);
                let connection = Connection {
                    router: router.clone(),
                    peer: Peer(peer.ip()),
                    stopping: stopping.clone(),
                    head_patience: app.settings.head_patience,
                };
                let tls = listener.tls.clone();
                tokio::spawn(async move {
                    let _permit = permit;
                    match tls {
                        None => connection.serve(stream).await,
                        Some(Tls(tls)) => {
                            let shake =
                                tokio::time::timeout(HANDSHAKE_PATIENCE, tls.accept(stream));
                            // Whoever does not speak TLS is none of ours.
                            if let Ok(Ok(stream)) = shake.await {
                                connection.serve(stream).await;
                            }
                        }
                    }
                });
            }
            // Out of descriptors, mostly: it passes.
            Err(cause) => {
                tracing::warn!(%cause, "a connection could not be taken");
                tokio::time::sleep(Duration::from_millis(200)).await;
            }
        }
    }
    tracing::info!("ending: answers under way come to their end");
    drop(listener);
    app.close();
    let _ = tell_stop.send(true);
    if tokio::time::timeout(LAST_ANSWERS, room.acquire_many(app.settings.most_connections))
        .await
        .is_err()
    {
        tracing::warn!("connections were still open and have been cut");
    }
    current.abort();
    forecasts.abort();
}

struct Connection {
    router: Router,
    peer: Peer,
    stopping: watch::Receiver<bool>,
    head_patience: Duration,
}

impl Connection {
    async fn serve(mut self, stream: impl AsyncRead + AsyncWrite + Unpin) {
        let (router, peer) = (TowerToHyperService::new(self.router), self.peer);
        let service = service_fn(move |mut request: Request<Incoming>| {
            request.extensions_mut().insert(peer);
            router.call(request)
        });
        let serving = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(self.head_patience)
            .max_buf_size(LARGEST_HEAD)
            .serve_connection(TokioIo::new(stream), service);
        let mut serving = pin!(serving);
        let over = tokio::time::sleep(LONGEST_CONNECTION);
        // A connection that breaks is the client's own affair.
        tokio::select! {
            _ = serving.as_mut() => return,
            _ = self.stopping.changed() => {}
            () = over => {}
        }
        serving.as_mut().graceful_shutdown();
        let _ = tokio::time::timeout(LAST_ANSWERS, serving).await;
    }
}
