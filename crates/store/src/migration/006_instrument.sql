-- The tapes and gauges of the garage. document is the entry as it stands in the exchange file, name its id there. An entry never
-- changes: what was read with it goes on meaning what it meant. What is found out later is a new entry that replaces it.
-- put_away: no longer offered; it stays for what was read with it.
CREATE TABLE instrument (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    document TEXT NOT NULL,
    document_check INTEGER NOT NULL,
    put_away INTEGER NOT NULL DEFAULT 0 CHECK (put_away IN (0, 1)),
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL
) STRICT;
CREATE TRIGGER instrument_is_kept BEFORE UPDATE OF name, document, document_check ON instrument
BEGIN SELECT raise(ABORT, 'an instrument is never changed, only replaced'); END;
CREATE TRIGGER instrument_stays BEFORE DELETE ON instrument
BEGIN SELECT raise(ABORT, 'an instrument is never deleted'); END;
