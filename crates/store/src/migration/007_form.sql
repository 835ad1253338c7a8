-- A form half filled in, as the interface typed it, by the form's name. It is verified like a reading, and gone once the form is done.
CREATE TABLE form_draft (
    name TEXT PRIMARY KEY,
    text TEXT NOT NULL,
    utc_ms INTEGER NOT NULL,
    offset_minutes INTEGER NOT NULL,
    checksum INTEGER NOT NULL
) STRICT;
