-- After the graft: plants set out, what they bore, what was seen of them; and losses of plants that
-- had taken. The view of losses is made anew, for its columns were fixed when it was made.

ALTER TABLE loss ADD COLUMN "late" TEXT;
DROP VIEW loss_now;
CREATE VIEW loss_now AS
  SELECT * FROM loss WHERE gone = 0 AND row IN (SELECT max(row) FROM loss GROUP BY key);

CREATE TABLE set_out (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "bed" TEXT NOT NULL,
  "count" INTEGER NOT NULL,
  "plants" TEXT NOT NULL CHECK ("plants" LIKE '[%]'),
  "union_height_mm" REAL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX set_out_by_key ON set_out (key, row);
CREATE VIEW set_out_now AS
  SELECT * FROM set_out WHERE gone = 0 AND row IN (SELECT max(row) FROM set_out GROUP BY key);

CREATE TABLE harvest (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "bed" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "plant" INTEGER,
  "weight_kg" REAL NOT NULL,
  "fruits" INTEGER,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX harvest_by_key ON harvest (key, row);
CREATE VIEW harvest_now AS
  SELECT * FROM harvest WHERE gone = 0 AND row IN (SELECT max(row) FROM harvest GROUP BY key);

CREATE TABLE remark (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "about" TEXT NOT NULL,
  "count" INTEGER,
  "plants" TEXT NOT NULL CHECK ("plants" LIKE '[%]'),
  "score" REAL,
  "what" TEXT NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX remark_by_key ON remark (key, row);
CREATE VIEW remark_now AS
  SELECT * FROM remark WHERE gone = 0 AND row IN (SELECT max(row) FROM remark GROUP BY key);
