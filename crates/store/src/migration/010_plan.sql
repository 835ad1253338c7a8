-- Plans, parts that a person has or could buy, marks of both, and ticks in the lists that work makes. document is the entry as it stands
-- in the exchange file, name its id there, once a car. An entry never changes: what is changed is a new entry that replaces it; putting
-- one away, bringing it back or carrying a plan out is a mark, and taking a tick back is another tick; the last counts.
CREATE TABLE plan (
    id INTEGER PRIMARY KEY,
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;
CREATE TABLE part (
    id INTEGER PRIMARY KEY,
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;
CREATE TABLE plan_mark (
    id INTEGER PRIMARY KEY,
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;
CREATE TABLE tick (
    id INTEGER PRIMARY KEY,
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;
CREATE TRIGGER plan_is_kept BEFORE UPDATE ON plan
BEGIN SELECT raise(ABORT, 'a plan is never changed, only replaced'); END;
CREATE TRIGGER plan_stays BEFORE DELETE ON plan
BEGIN SELECT raise(ABORT, 'a plan is never deleted'); END;
CREATE TRIGGER part_is_kept BEFORE UPDATE ON part
BEGIN SELECT raise(ABORT, 'a part is never changed, only replaced'); END;
CREATE TRIGGER part_stays BEFORE DELETE ON part
BEGIN SELECT raise(ABORT, 'a part is never deleted'); END;
CREATE TRIGGER plan_mark_is_kept BEFORE UPDATE ON plan_mark
BEGIN SELECT raise(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER plan_mark_stays BEFORE DELETE ON plan_mark
BEGIN SELECT raise(ABORT, 'a mark is never deleted'); END;
CREATE TRIGGER tick_is_kept BEFORE UPDATE ON tick
BEGIN SELECT raise(ABORT, 'a tick is never changed'); END;
CREATE TRIGGER tick_stays BEFORE DELETE ON tick
BEGIN SELECT raise(ABORT, 'a tick is never deleted'); END;
