-- Stances that are wanted. document is the entry as it stands in the exchange file, name its id there, once a car. An entry never
-- changes: what is changed is a new entry that replaces it, and putting one away or bringing it back is a mark; the last counts.
-- A target of an exchange file of version 1 stays in its car's own description; marks call it by the name "target".
CREATE TABLE target (
    id INTEGER PRIMARY KEY,
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;
CREATE TABLE target_mark (
    id INTEGER PRIMARY KEY,
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;
CREATE TRIGGER target_is_kept BEFORE UPDATE ON target
BEGIN SELECT raise(ABORT, 'a target is never changed, only replaced'); END;
CREATE TRIGGER target_stays BEFORE DELETE ON target
BEGIN SELECT raise(ABORT, 'a target is never deleted'); END;
CREATE TRIGGER target_mark_is_kept BEFORE UPDATE ON target_mark
BEGIN SELECT raise(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER target_mark_stays BEFORE DELETE ON target_mark
BEGIN SELECT raise(ABORT, 'a mark is never deleted'); END;
