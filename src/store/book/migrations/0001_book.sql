-- The test-weld book: one chain of entries that only ever grows.

PRAGMA application_id = 1718842487; -- "fstw": a file of this program

CREATE TABLE entry (
    sequence      INTEGER PRIMARY KEY CHECK (sequence > 0),
    kind          TEXT NOT NULL CHECK (kind IN ('trial', 'correction', 'run', 'note')),
    site_key      TEXT NOT NULL,
    site          TEXT NOT NULL,
    recorded_at   TEXT NOT NULL,
    recorded_by   TEXT NOT NULL,
    supersedes    INTEGER UNIQUE REFERENCES entry (sequence) CHECK (supersedes < sequence),
    because       TEXT,
    payload       TEXT NOT NULL,
    previous_hash TEXT NOT NULL CHECK (length(previous_hash) = 64),
    hash          TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
    CHECK ((kind = 'correction') = (supersedes IS NOT NULL)),
    CHECK ((supersedes IS NULL) = (because IS NULL))
) STRICT;

CREATE INDEX entry_by_site ON entry (site_key, sequence);

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the test-weld book is never changed');
END;

CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the test-weld book is never removed');
END;

-- Also keeps INSERT OR REPLACE from removing an entry, which fires no DELETE trigger.
CREATE TRIGGER entry_follows_the_last BEFORE INSERT ON entry
WHEN NEW.sequence IS NOT (SELECT coalesce(max(sequence), 0) + 1 FROM entry)
    OR NEW.previous_hash IS NOT coalesce(
        (SELECT hash FROM entry ORDER BY sequence DESC LIMIT 1),
        '0000000000000000000000000000000000000000000000000000000000000000'
    )
BEGIN
    SELECT RAISE(ABORT, 'an entry of the test-weld book follows the last one');
END;
