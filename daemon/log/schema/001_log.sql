-- The chamber log. Instants are milliseconds since 1970 UTC; temperatures thousandths of a degC,
-- humidities thousandths of a percent: whole numbers, for they are small on disk and compare exactly.
--
-- reading.row and event.row are drawn from ONE rising counter, so that a row number names a place in
-- the whole history (the id of the live stream). Rows are written in time order; late = 1 marks the
-- few that came with a time before the newest of the log, so that the others can be searched by row.

CREATE TABLE probe (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  place TEXT NOT NULL
) STRICT;

CREATE TABLE reading (
  row INTEGER PRIMARY KEY,
  at_ms INTEGER NOT NULL,
  probe INTEGER NOT NULL REFERENCES probe (id),
  temperature_mdegc INTEGER,
  humidity_mpct INTEGER,
  quality INTEGER NOT NULL,
  late INTEGER NOT NULL
) STRICT;
CREATE INDEX reading_late ON reading (at_ms) WHERE late = 1;

CREATE TABLE warning (
  number INTEGER PRIMARY KEY,
  kind INTEGER NOT NULL,
  cause INTEGER NOT NULL,
  probe TEXT,
  about TEXT NOT NULL,
  below INTEGER NOT NULL,
  raised_at_ms INTEGER NOT NULL,
  cleared_at_ms INTEGER,
  acknowledged_at_ms INTEGER,
  shelved_until_ms INTEGER,
  text TEXT NOT NULL
) STRICT;

CREATE TABLE event (
  row INTEGER PRIMARY KEY,
  at_ms INTEGER NOT NULL,
  type INTEGER NOT NULL,
  warning INTEGER REFERENCES warning (number),
  about TEXT NOT NULL,
  text TEXT NOT NULL
) STRICT;

-- One row a label, the newest revision of its book; body is the message as it came.
CREATE TABLE occupant (
  label TEXT PRIMARY KEY,
  book TEXT NOT NULL,
  revision INTEGER NOT NULL,
  entered_at_ms INTEGER NOT NULL,
  left_at_ms INTEGER,
  body TEXT NOT NULL
) STRICT;
