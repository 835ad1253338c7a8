-- Ground that any of the garage's cars may drive over. document is the entry as it stands in the exchange file without its stations,
-- name its id there. An entry never changes: what is changed, put away or brought back is a new row of the same name; the last counts.
CREATE TABLE ground (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    document TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX ground_of_name ON ground (name);
-- Stations under a string, each as it stands in the exchange file; ground is the name of the ground.
CREATE TABLE ground_station (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    ground TEXT NOT NULL,
    document TEXT NOT NULL,
    request TEXT UNIQUE,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX ground_station_of_ground ON ground_station (ground);
-- The last mark of a station counts. after_station is the newest station of the same ground at that time.
CREATE TABLE ground_station_mark (
    id INTEGER PRIMARY KEY,
    station INTEGER NOT NULL REFERENCES ground_station (id),
    what TEXT NOT NULL CHECK (what IN ('taken_back', 'put_back')),
    after_station INTEGER NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX ground_station_mark_of_station ON ground_station_mark (station);
CREATE TRIGGER ground_is_kept BEFORE UPDATE ON ground
BEGIN SELECT raise(ABORT, 'a ground is never changed, only replaced'); END;
CREATE TRIGGER ground_stays BEFORE DELETE ON ground
BEGIN SELECT raise(ABORT, 'a ground is never deleted'); END;
CREATE TRIGGER ground_station_is_kept BEFORE UPDATE ON ground_station
BEGIN SELECT raise(ABORT, 'a reading is never changed, only superseded'); END;
CREATE TRIGGER ground_station_stays BEFORE DELETE ON ground_station
BEGIN SELECT raise(ABORT, 'a reading is never deleted'); END;
CREATE TRIGGER ground_station_mark_is_kept BEFORE UPDATE ON ground_station_mark
BEGIN SELECT raise(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER ground_station_mark_stays BEFORE DELETE ON ground_station_mark
BEGIN SELECT raise(ABORT, 'a mark is never deleted'); END;
