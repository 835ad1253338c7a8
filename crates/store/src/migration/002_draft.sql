-- A draft is verified like a reading. settled: the question about the reading taken last was answered.
-- The checksums of drafts that are there already are worked out by the program, in the same transaction.
ALTER TABLE draft ADD COLUMN settled INTEGER NOT NULL DEFAULT 0 CHECK (settled IN (0, 1));
ALTER TABLE draft ADD COLUMN checksum INTEGER NOT NULL DEFAULT 0;
