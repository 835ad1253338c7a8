-- A photo of one side of a car in a snapshot; its bytes are a file beside the database, named by sha256. The newest of a side counts.
-- A finished snapshot takes photos too, since no number hangs on them. as_written holds what else a file said about the photo.
CREATE TABLE photo (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    snapshot INTEGER NOT NULL REFERENCES snapshot (id),
    side TEXT NOT NULL CHECK (side IN ('front', 'right', 'rear', 'left')),
    sha256 BLOB NOT NULL CHECK (length(sha256) = 32),
    media_type TEXT NOT NULL CHECK (media_type IN ('image/jpeg', 'image/png', 'image/webp')),
    width_px INTEGER NOT NULL,
    height_px INTEGER NOT NULL,
    size_bytes INTEGER NOT NULL,
    as_written TEXT NOT NULL,
    utc_ms INTEGER,
    offset_minutes INTEGER,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX photo_of_snapshot ON photo (snapshot);

-- The last mark of a photo counts.
CREATE TABLE photo_mark (
    id INTEGER PRIMARY KEY,
    photo INTEGER NOT NULL REFERENCES photo (id),
    what TEXT NOT NULL CHECK (what IN ('taken_off', 'put_back')),
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
CREATE INDEX mark_of_photo ON photo_mark (photo);

CREATE TRIGGER photo_is_kept BEFORE UPDATE ON photo
BEGIN SELECT raise(ABORT, 'a photo is never changed, only followed by another'); END;
CREATE TRIGGER photo_stays BEFORE DELETE ON photo
BEGIN SELECT raise(ABORT, 'a photo is never deleted'); END;
CREATE TRIGGER photo_mark_is_kept BEFORE UPDATE ON photo_mark
BEGIN SELECT raise(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER photo_mark_stays BEFORE DELETE ON photo_mark
BEGIN SELECT raise(ABORT, 'a mark is never deleted'); END;
