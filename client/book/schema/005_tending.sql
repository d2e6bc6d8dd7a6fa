-- Tasks of a healing stage that were done: looks, misting, water, opening, severing, clips.

CREATE TABLE tending (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "batch" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "task" TEXT NOT NULL,
  "due_at" TEXT,
  "wilted" INTEGER,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX tending_by_key ON tending (key, row);
CREATE VIEW tending_now AS
  SELECT * FROM tending WHERE gone = 0 AND row IN (SELECT max(row) FROM tending GROUP BY key);
