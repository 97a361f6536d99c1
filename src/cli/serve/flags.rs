//! What can be typed behind `fairseam serve`.

use std::net::SocketAddr;
use std::num::NonZeroU32;
use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// Serve calendar feeds, the crew's page and the office's page; make and take back keys.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  fairseam serve roofs/
  fairseam serve --new-key roof.toml --for crew --holder 'crew A, tablet' --days 30
  fairseam serve --new-key roof.toml --for feed --holder 'foreman, phone'
  fairseam serve --new-key --for office --holder 'M., office'
  fairseam serve --list-keys
  fairseam serve --revoke 3
  fairseam serve roofs/ --listen 0.0.0.0:8443 --tls-cert chain.pem --tls-key key.pem
  fairseam serve roofs/ --behind-proxy --url https://welds.example.com")]
pub(in crate::cli) struct ServeArguments {
    /// Site files, folders of them, or lists of them.
    #[arg(value_name = "SITE", required_unless_present_any = ["new_key", "list_keys", "revoke"])]
    pub(super) sites: Vec<PathBuf>,
    /// Where to listen. Other than this machine's own loopback only with TLS or a proxy.
    #[arg(long, value_name = "ADDRESS:PORT", default_value = "127.0.0.1:8790")]
    pub(super) listen: SocketAddr,
    /// The server's certificate and those that vouch for it, PEM.
    #[arg(long, value_name = "FILE", requires = "tls_key", conflicts_with = "behind_proxy")]
    pub(super) tls_cert: Option<PathBuf>,
    /// The private key of that certificate, PEM.
    #[arg(long, value_name = "FILE", requires = "tls_cert")]
    pub(super) tls_key: Option<PathBuf>,
    /// A proxy of yours stands before it, speaks TLS to the phones and adds `X-Forwarded-For`.
    #[arg(long)]
    pub(super) behind_proxy: bool,
    /// Ask no weather service: use the forecasts that were fetched last.
    #[arg(long)]
    pub(super) offline: bool,
    /// How the log on stderr looks.
    #[arg(long, value_enum, default_value_t = LogFormat::Text)]
    pub(super) log: LogFormat,
    /// Requests a minute from one address; 0 for no limit.
    #[arg(long, value_name = "N", default_value_t = 1200)]
    pub(super) address_limit: u32,
    /// Requests a minute with one key; 0 for no limit.
    #[arg(long, value_name = "N", default_value_t = 600)]
    pub(super) key_limit: u32,
    /// Make a key for this site (none for the office, which has all sites), show it once, end.
    #[arg(long, value_name = "SITE", num_args = 0..=1, requires_all = ["role", "holder"],
        conflicts_with_all = ["sites", "list_keys", "revoke"])]
    pub(super) new_key: Option<Option<PathBuf>>,
    /// What the key is for.
    #[arg(long = "for", value_enum, value_name = "WHOM", requires = "new_key")]
    pub(super) role: Option<RoleWord>,
    /// Who gets it: a person, a crew, a device. What is written with it bears this name.
    #[arg(long, value_name = "NAME", requires = "new_key")]
    pub(super) holder: Option<String>,
    /// Days until it expires.
    #[arg(long, value_name = "N", default_value = "120", requires = "new_key")]
    pub(super) days: NonZeroU32,
    /// The server's address as phones have it, for the links that are printed.
    #[arg(long, value_name = "URL")]
    pub(super) url: Option<String>,
    /// List every key: number, whom it is for, holder, state. The keys themselves are not kept.
    #[arg(long, conflicts_with_all = ["sites", "revoke"])]
    pub(super) list_keys: bool,
    /// Take the key of this number back.
    #[arg(long, value_name = "NUMBER", conflicts_with = "sites")]
    pub(super) revoke: Option<u64>,
}

/// A role as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum RoleWord {
    /// Its site: read, record.
    Crew,
    /// Every site: read, record, correct.
    Office,
    /// The calendar of its site.
    Feed,
}

/// How the log looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum LogFormat {
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}
