-- A document is a piece of the exchange file without its readings; the readings stand in rows of their own.
-- label and outline repeat what the car's document says, so that a list of cars need not read it.
CREATE TABLE car (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    label TEXT NOT NULL,
    outline TEXT NOT NULL,
    document TEXT NOT NULL,
    document_check INTEGER NOT NULL,
    version INTEGER NOT NULL,
    used INTEGER NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL
) STRICT;

CREATE TABLE floor (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    document_check INTEGER NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;

CREATE TABLE snapshot (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    car INTEGER NOT NULL REFERENCES car (id),
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    document_check INTEGER NOT NULL,
    plan TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    UNIQUE (car, name)
) STRICT;

-- A snapshot with a row here is finished, and frozen.
CREATE TABLE finish (
    snapshot INTEGER PRIMARY KEY REFERENCES snapshot (id),
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;

-- What a document said before.
CREATE TABLE earlier_document (
    id INTEGER PRIMARY KEY,
    owner TEXT NOT NULL CHECK (owner IN ('car', 'floor', 'snapshot')),
    owner_row INTEGER NOT NULL,
    document TEXT NOT NULL,
    document_check INTEGER NOT NULL
) STRICT;

-- kind: tape and gauge belong to a bounce of a snapshot, plane to a set-up of a snapshot, staff to a pass of a floor.
-- value is mm, of a gauge degrees. as_written holds what else a file said about the reading.
CREATE TABLE reading (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    kind TEXT NOT NULL CHECK (kind IN ('tape', 'gauge', 'plane', 'staff')),
    snapshot INTEGER REFERENCES snapshot (id),
    floor INTEGER REFERENCES floor (id),
    bounce TEXT NOT NULL,
    pass_no INTEGER NOT NULL,
    place TEXT NOT NULL,
    round INTEGER NOT NULL,
    reversed INTEGER NOT NULL CHECK (reversed IN (0, 1)),
    text TEXT NOT NULL,
    unit TEXT NOT NULL,
    value REAL NOT NULL,
    as_written TEXT NOT NULL,
    request TEXT UNIQUE,
    utc_ms INTEGER,
    offset_minutes INTEGER,
    checksum INTEGER NOT NULL,
    CHECK ((snapshot IS NULL) <> (floor IS NULL)),
    CHECK ((kind = 'staff') = (floor IS NOT NULL))
) STRICT;
CREATE INDEX reading_of_snapshot ON reading (snapshot) WHERE snapshot IS NOT NULL;
CREATE INDEX reading_of_floor ON reading (floor) WHERE floor IS NOT NULL;
CREATE INDEX snapshot_of_car ON snapshot (car);

-- The last mark of a reading counts. after_reading is the newest reading of the same snapshot or floor at that time.
CREATE TABLE mark (
    id INTEGER PRIMARY KEY,
    reading INTEGER NOT NULL REFERENCES reading (id),
    what TEXT NOT NULL CHECK (what IN ('taken_back', 'put_back', 'struck')),
    reason TEXT NOT NULL,
    after_reading INTEGER NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX mark_of_reading ON mark (reading);

-- Half-typed text and the step it is for.
CREATE TABLE draft (
    snapshot INTEGER PRIMARY KEY REFERENCES snapshot (id),
    step TEXT NOT NULL,
    text TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL
) STRICT;

CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;

-- Results can always be worked out again; version is the car's version they were worked out from.
CREATE TABLE derived (
    car INTEGER PRIMARY KEY REFERENCES car (id),
    engine TEXT NOT NULL,
    version INTEGER NOT NULL,
    row TEXT NOT NULL
) STRICT;

CREATE TRIGGER reading_is_kept BEFORE UPDATE ON reading
BEGIN SELECT raise(ABORT, 'a reading is never changed, only superseded'); END;
CREATE TRIGGER reading_stays BEFORE DELETE ON reading
BEGIN SELECT raise(ABORT, 'a reading is never deleted'); END;
CREATE TRIGGER mark_is_kept BEFORE UPDATE ON mark
BEGIN SELECT raise(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER mark_stays BEFORE DELETE ON mark
BEGIN SELECT raise(ABORT, 'a mark is never deleted'); END;
CREATE TRIGGER finish_is_kept BEFORE UPDATE ON finish
BEGIN SELECT raise(ABORT, 'finished once'); END;
CREATE TRIGGER finish_stays BEFORE DELETE ON finish
BEGIN SELECT raise(ABORT, 'a finished snapshot stays finished'); END;
CREATE TRIGGER snapshot_stays BEFORE DELETE ON snapshot
BEGIN SELECT raise(ABORT, 'a snapshot is never deleted'); END;
CREATE TRIGGER floor_stays BEFORE DELETE ON floor
BEGIN SELECT raise(ABORT, 'a floor is never deleted'); END;
CREATE TRIGGER car_stays BEFORE DELETE ON car
BEGIN SELECT raise(ABORT, 'a car is never deleted'); END;
CREATE TRIGGER finished_takes_no_reading BEFORE INSERT ON reading
WHEN new.snapshot IN (SELECT snapshot FROM finish)
BEGIN SELECT raise(ABORT, 'a finished snapshot takes no reading'); END;
CREATE TRIGGER finished_takes_no_mark BEFORE INSERT ON mark
WHEN (SELECT snapshot FROM reading WHERE id = new.reading) IN (SELECT snapshot FROM finish)
BEGIN SELECT raise(ABORT, 'a finished snapshot takes no mark'); END;
CREATE TRIGGER finished_is_frozen BEFORE UPDATE ON snapshot
WHEN old.id IN (SELECT snapshot FROM finish)
BEGIN SELECT raise(ABORT, 'a finished snapshot is not changed'); END;
CREATE TRIGGER car_document_is_kept AFTER UPDATE OF document ON car
BEGIN INSERT INTO earlier_document (owner, owner_row, document, document_check)
    VALUES ('car', old.id, old.document, old.document_check); END;
CREATE TRIGGER floor_document_is_kept AFTER UPDATE OF document ON floor
BEGIN INSERT INTO earlier_document (owner, owner_row, document, document_check)
    VALUES ('floor', old.id, old.document, old.document_check); END;
CREATE TRIGGER snapshot_document_is_kept AFTER UPDATE OF document ON snapshot
BEGIN INSERT INTO earlier_document (owner, owner_row, document, document_check)
    VALUES ('snapshot', old.id, old.document, old.document_check); END;
