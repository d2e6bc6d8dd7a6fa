-- Seasons can be closed, and a command knows in which order it wrote its nouns: what one command
-- takes in from elsewhere keeps the order in which it was first told.

ALTER TABLE touch ADD COLUMN place INTEGER NOT NULL DEFAULT 0;

CREATE TABLE season_close (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "season" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX season_close_by_key ON season_close (key, row);
CREATE VIEW season_close_now AS
  SELECT * FROM season_close WHERE gone = 0 AND row IN (SELECT max(row) FROM season_close GROUP BY key);
