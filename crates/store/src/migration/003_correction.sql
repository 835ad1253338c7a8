-- Dated corrections of finished snapshots. document is the correction as it stands in the exchange file; readings and snapshots
-- stay as they are, and what counts is worked out by going through the corrections in the order of their rows.
-- utc_ms and offset_minutes: when it was entered here; the document says when it was made.
CREATE TABLE correction (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    snapshot INTEGER NOT NULL REFERENCES snapshot (id),
    document TEXT NOT NULL,
    request TEXT UNIQUE,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX correction_of_snapshot ON correction (snapshot);
CREATE TRIGGER correction_is_kept BEFORE UPDATE ON correction
BEGIN SELECT raise(ABORT, 'a correction is never changed, only taken back by another'); END;
CREATE TRIGGER correction_stays BEFORE DELETE ON correction
BEGIN SELECT raise(ABORT, 'a correction is never deleted'); END;
CREATE TRIGGER unfinished_takes_no_correction BEFORE INSERT ON correction
WHEN new.snapshot NOT IN (SELECT snapshot FROM finish)
BEGIN SELECT raise(ABORT, 'an unfinished snapshot takes no correction'); END;
