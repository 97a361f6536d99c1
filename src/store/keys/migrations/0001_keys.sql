-- Who may come in: one row a key. The key itself is nowhere, only its hash.

PRAGMA application_id = 1718842489; -- "fsky": a file of this program

CREATE TABLE key (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    hash       TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
    role       TEXT NOT NULL CHECK (role IN ('crew', 'office', 'feed')),
    site_key   TEXT,
    holder     TEXT NOT NULL CHECK (length(holder) > 0),
    made_at    TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    revoked_at TEXT,
    CHECK ((role = 'office') = (site_key IS NULL))
) STRICT;
