-- What phones have sent: each sending is taken in once, however often it arrives.

CREATE TABLE sent (
    id       TEXT PRIMARY KEY CHECK (length(id) = 36),
    site_key TEXT NOT NULL,
    digest   TEXT NOT NULL CHECK (length(digest) = 64),
    entry    INTEGER NOT NULL REFERENCES entry (sequence)
) STRICT;

CREATE TRIGGER sent_is_never_changed BEFORE UPDATE ON sent
BEGIN
    SELECT RAISE(ABORT, 'a sending that the test-weld book took in is never changed');
END;

CREATE TRIGGER sent_is_never_removed BEFORE DELETE ON sent
BEGIN
    SELECT RAISE(ABORT, 'a sending that the test-weld book took in is never removed');
END;

-- Also keeps INSERT OR REPLACE from removing one, which fires no DELETE trigger.
CREATE TRIGGER sent_comes_once BEFORE INSERT ON sent
WHEN EXISTS (SELECT 1 FROM sent WHERE id = NEW.id)
BEGIN
    SELECT RAISE(ABORT, 'a sending is taken into the test-weld book once');
END;
