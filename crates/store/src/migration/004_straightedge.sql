-- A straightedge with an angle gauge over two spots of a floor is a reading of its own kind (place: "S1/S2"), and a floor can be
-- used by more cars than the one that marked its spots out. A CHECK cannot be changed, so the two tables are made anew; every row
-- is carried over as it is, checksum and all.
CREATE TABLE reading_2 (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    kind TEXT NOT NULL CHECK (kind IN ('tape', 'gauge', 'plane', 'staff', 'straightedge')),
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
    CHECK ((kind IN ('staff', 'straightedge')) = (floor IS NOT NULL))
) STRICT;
INSERT INTO reading_2 SELECT id, uuid, kind, snapshot, floor, bounce, pass_no, place, round, reversed, text, unit, value,
    as_written, request, utc_ms, offset_minutes, checksum FROM reading;
CREATE TABLE mark_2 (
    id INTEGER PRIMARY KEY,
    reading INTEGER NOT NULL REFERENCES reading_2 (id),
    what TEXT NOT NULL CHECK (what IN ('taken_back', 'put_back', 'struck')),
    reason TEXT NOT NULL,
    after_reading INTEGER NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
INSERT INTO mark_2 SELECT id, reading, what, reason, after_reading, utc_ms, offset_minutes, checksum FROM mark;
DROP TABLE mark;
DROP TABLE reading;
ALTER TABLE reading_2 RENAME TO reading;
ALTER TABLE mark_2 RENAME TO mark;
CREATE INDEX reading_of_snapshot ON reading (snapshot) WHERE snapshot IS NOT NULL;
CREATE INDEX reading_of_floor ON reading (floor) WHERE floor IS NOT NULL;
CREATE INDEX mark_of_reading ON mark (reading);
CREATE TRIGGER reading_is_kept BEFORE UPDATE ON reading
BEGIN SELECT raise(ABORT, 'a reading is never changed, only superseded'); END;
CREATE TRIGGER reading_stays BEFORE DELETE ON reading
BEGIN SELECT raise(ABORT, 'a reading is never deleted'); END;
CREATE TRIGGER mark_is_kept BEFORE UPDATE ON mark
BEGIN SELECT raise(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER mark_stays BEFORE DELETE ON mark
BEGIN SELECT raise(ABORT, 'a mark is never deleted'); END;
CREATE TRIGGER finished_takes_no_reading BEFORE INSERT ON reading
WHEN new.snapshot IN (SELECT snapshot FROM finish)
BEGIN SELECT raise(ABORT, 'a finished snapshot takes no reading'); END;
CREATE TRIGGER finished_takes_no_mark BEFORE INSERT ON mark
WHEN (SELECT snapshot FROM reading WHERE id = new.reading) IN (SELECT snapshot FROM finish)
BEGIN SELECT raise(ABORT, 'a finished snapshot takes no mark'); END;

-- A car that stands on spots another car marked out. What the floor is stays with its own car.
CREATE TABLE floor_use (
    car INTEGER NOT NULL REFERENCES car (id),
    floor INTEGER NOT NULL REFERENCES floor (id),
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    PRIMARY KEY (car, floor)
) STRICT;
