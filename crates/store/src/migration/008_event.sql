-- Dated work on a car and notes. document is one row of an event's own book as it stands in the exchange file: it was kept, changed,
-- withdrawn or brought back. What an event says and whether it counts is worked out by going through its rows in their order; none
-- is ever changed or deleted. event: the event's id; uuid: the row's.
CREATE TABLE event (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    car INTEGER NOT NULL REFERENCES car (id),
    event BLOB NOT NULL CHECK (length(event) = 16),
    document TEXT NOT NULL,
    request TEXT UNIQUE,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX event_of_car ON event (car);
CREATE TRIGGER event_is_kept BEFORE UPDATE ON event
BEGIN SELECT raise(ABORT, 'an event is never changed, only followed by another row'); END;
CREATE TRIGGER event_stays BEFORE DELETE ON event
BEGIN SELECT raise(ABORT, 'an event is never deleted'); END;
