-- Each day's plan, as it stood whenever it changed: a chain of its own beside the entries.

CREATE TABLE plan (
    sequence      INTEGER PRIMARY KEY CHECK (sequence > 0),
    site_key      TEXT NOT NULL,
    site          TEXT NOT NULL,
    date          TEXT NOT NULL CHECK (length(date) = 10),
    made_at       TEXT NOT NULL,
    payload       TEXT NOT NULL,
    previous_hash TEXT NOT NULL CHECK (length(previous_hash) = 64),
    hash          TEXT NOT NULL UNIQUE CHECK (length(hash) = 64)
) STRICT;

CREATE INDEX plan_by_day ON plan (site_key, date, sequence);

CREATE TRIGGER plan_is_never_changed BEFORE UPDATE ON plan
BEGIN
    SELECT RAISE(ABORT, 'a plan kept in the test-weld book is never changed');
END;

CREATE TRIGGER plan_is_never_removed BEFORE DELETE ON plan
BEGIN
    SELECT RAISE(ABORT, 'a plan kept in the test-weld book is never removed');
END;

-- Also keeps INSERT OR REPLACE from removing a plan, which fires no DELETE trigger.
CREATE TRIGGER plan_follows_the_last BEFORE INSERT ON plan
WHEN NEW.sequence IS NOT (SELECT coalesce(max(sequence), 0) + 1 FROM plan)
    OR NEW.previous_hash IS NOT coalesce(
        (SELECT hash FROM plan ORDER BY sequence DESC LIMIT 1),
        '0000000000000000000000000000000000000000000000000000000000000000'
    )
BEGIN
    SELECT RAISE(ABORT, 'a plan kept in the test-weld book follows the last one');
END;
