-- What `fairseam follow` has published, who follows, and what a calendar server has yet to take.

PRAGMA application_id = 1718840943; -- "fsfo": a file of this program

CREATE TABLE day (
    site_key     TEXT NOT NULL,
    date         TEXT NOT NULL CHECK (length(date) = 10),
    published_at TEXT,
    record       TEXT NOT NULL,
    PRIMARY KEY (site_key, date)
) STRICT;

CREATE TABLE lease (
    site_key TEXT PRIMARY KEY,
    holder   TEXT NOT NULL,
    until    TEXT NOT NULL,
    seen_at  TEXT NOT NULL,
    health   TEXT NOT NULL
) STRICT;

CREATE TABLE caldav_event (
    collection TEXT NOT NULL,
    uid        TEXT NOT NULL,
    site_key   TEXT NOT NULL,
    href       TEXT NOT NULL,
    wanted     TEXT NOT NULL,
    sent       TEXT,
    sequence   INTEGER NOT NULL DEFAULT 0,
    etag       TEXT,
    tries      INTEGER NOT NULL DEFAULT 0,
    not_before TEXT,
    PRIMARY KEY (collection, uid)
) STRICT;
