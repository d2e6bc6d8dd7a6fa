-- The grower's book, first edition.
--
-- Every table of a noun keeps versions: a row is never changed or deleted. `row` rises; the newest
-- row of a key is what stands, unless it is `gone`. `command` is the recording command that wrote it.
-- Lists are JSON text, checked by their brackets only: a schema that is not trusted may not call
-- json_valid. Days are "2027-04-12", instants RFC 3339 in UTC, units as the names say.

CREATE TABLE book (
  only INTEGER PRIMARY KEY CHECK (only = 1),
  uuid TEXT NOT NULL,
  made_at TEXT NOT NULL,
  time_zone TEXT NOT NULL
) STRICT;

-- A recording command: one transaction, one undo. `undoes` is set when it is an undo itself.
CREATE TABLE command (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  entered_at TEXT NOT NULL,
  words TEXT NOT NULL,
  undoes INTEGER REFERENCES command (id)
) STRICT;

-- Which nouns a command wrote.
CREATE TABLE touch (
  command INTEGER NOT NULL REFERENCES command (id),
  kind TEXT NOT NULL,
  key TEXT NOT NULL,
  PRIMARY KEY (command, kind, key)
) STRICT, WITHOUT ROWID;
CREATE INDEX touch_by_noun ON touch (kind, key, command);

-- The last number given out by letter (S, G, P, R) and the last revision by label ("revision:G1").
CREATE TABLE counter (
  name TEXT PRIMARY KEY,
  last INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- What the daemon has not been told yet: one row a label, the newest state. No body: it left.
CREATE TABLE outbox (
  label TEXT PRIMARY KEY,
  revision INTEGER NOT NULL,
  body TEXT,
  at TEXT NOT NULL,
  tries INTEGER NOT NULL DEFAULT 0,
  trouble TEXT NOT NULL DEFAULT '',
  parked INTEGER NOT NULL DEFAULT 0
) STRICT;

-- Sheets loaded, as JSON by kind and name: what the next load's merge starts from.
CREATE TABLE sheet (
  row INTEGER PRIMARY KEY,
  command INTEGER NOT NULL REFERENCES command (id),
  nouns TEXT NOT NULL
) STRICT;

CREATE TABLE season (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "season" TEXT NOT NULL,
  "ready_on" TEXT NOT NULL,
  "confidence" REAL NOT NULL,
  "units" TEXT NOT NULL,
  "time_zone" TEXT,
  "free_days" TEXT NOT NULL CHECK ("free_days" LIKE '[%]'),
  "away" TEXT NOT NULL CHECK ("away" LIKE '[%]'),
  "cells_per_tray" INTEGER NOT NULL,
  "seeds_per_cell" INTEGER NOT NULL,
  "cell_price" REAL,
  "graft_price" REAL,
  "tolerance_pct" REAL NOT NULL,
  "window_days" INTEGER NOT NULL,
  "grafts_per_day" INTEGER,
  "regime" TEXT NOT NULL,
  "chamber_places" INTEGER
) STRICT;
CREATE INDEX season_by_key ON season (key, row);
CREATE VIEW season_now AS
  SELECT * FROM season WHERE gone = 0 AND row IN (SELECT max(row) FROM season GROUP BY key);

CREATE TABLE bench (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "name" TEXT NOT NULL,
  "position" INTEGER NOT NULL,
  "day_degc" REAL NOT NULL,
  "night_degc" REAL NOT NULL,
  "day_hours" REAL NOT NULL
) STRICT;
CREATE INDEX bench_by_key ON bench (key, row);
CREATE VIEW bench_now AS
  SELECT * FROM bench WHERE gone = 0 AND row IN (SELECT max(row) FROM bench GROUP BY key);

CREATE TABLE bed (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "name" TEXT NOT NULL,
  "troubles" TEXT NOT NULL CHECK ("troubles" LIKE '[%]'),
  "soil_peak_degc" REAL
) STRICT;
CREATE INDEX bed_by_key ON bed (key, row);
CREATE VIEW bed_now AS
  SELECT * FROM bed WHERE gone = 0 AND row IN (SELECT max(row) FROM bed GROUP BY key);

CREATE TABLE variety (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "name" TEXT NOT NULL,
  "role" TEXT NOT NULL,
  "species" TEXT NOT NULL,
  "habit" TEXT,
  "fruit" TEXT,
  "resists" TEXT NOT NULL,
  "tmv_genes" TEXT NOT NULL
) STRICT;
CREATE INDEX variety_by_key ON variety (key, row);
CREATE VIEW variety_now AS
  SELECT * FROM variety WHERE gone = 0 AND row IN (SELECT max(row) FROM variety GROUP BY key);

CREATE TABLE lot (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "label" TEXT NOT NULL,
  "variety" TEXT NOT NULL,
  "year" INTEGER,
  "seeds" INTEGER NOT NULL,
  "price" REAL,
  "packet_seeds" INTEGER,
  "origin" TEXT
) STRICT;
CREATE INDEX lot_by_key ON lot (key, row);
CREATE VIEW lot_now AS
  SELECT * FROM lot WHERE gone = 0 AND row IN (SELECT max(row) FROM lot GROUP BY key);

CREATE TABLE lot_test (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "lot" TEXT NOT NULL,
  "on" TEXT NOT NULL,
  "sprouted" INTEGER NOT NULL,
  "sown" INTEGER NOT NULL
) STRICT;
CREATE INDEX lot_test_by_key ON lot_test (key, row);
CREATE VIEW lot_test_now AS
  SELECT * FROM lot_test WHERE gone = 0 AND row IN (SELECT max(row) FROM lot_test GROUP BY key);

CREATE TABLE seed_count (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "lot" TEXT NOT NULL,
  "seeds" INTEGER NOT NULL
) STRICT;
CREATE INDEX seed_count_by_key ON seed_count (key, row);
CREATE VIEW seed_count_now AS
  SELECT * FROM seed_count WHERE gone = 0 AND row IN (SELECT max(row) FROM seed_count GROUP BY key);

CREATE TABLE pairing (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "scion" TEXT NOT NULL,
  "rootstock" TEXT NOT NULL,
  "want" INTEGER NOT NULL,
  "weight" REAL NOT NULL,
  "method" TEXT NOT NULL,
  "scion_lot" TEXT,
  "rootstock_lot" TEXT,
  "ready_on" TEXT
) STRICT;
CREATE INDEX pairing_by_key ON pairing (key, row);
CREATE VIEW pairing_now AS
  SELECT * FROM pairing WHERE gone = 0 AND row IN (SELECT max(row) FROM pairing GROUP BY key);

CREATE TABLE own_root (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "variety" TEXT NOT NULL,
  "want" INTEGER NOT NULL
) STRICT;
CREATE INDEX own_root_by_key ON own_root (key, row);
CREATE VIEW own_root_now AS
  SELECT * FROM own_root WHERE gone = 0 AND row IN (SELECT max(row) FROM own_root GROUP BY key);

CREATE TABLE sowing (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "lot" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "seeds" INTEGER NOT NULL,
  "cells" INTEGER NOT NULL,
  "bench" TEXT NOT NULL,
  "side" TEXT,
  "pairings" TEXT NOT NULL CHECK ("pairings" LIKE '[%]'),
  "planned" TEXT,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX sowing_by_key ON sowing (key, row);
CREATE VIEW sowing_now AS
  SELECT * FROM sowing WHERE gone = 0 AND row IN (SELECT max(row) FROM sowing GROUP BY key);

CREATE TABLE emerged (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "sowing" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "standing" INTEGER NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX emerged_by_key ON emerged (key, row);
CREATE VIEW emerged_now AS
  SELECT * FROM emerged WHERE gone = 0 AND row IN (SELECT max(row) FROM emerged GROUP BY key);

CREATE TABLE thinning (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "sowing" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "removed" INTEGER NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX thinning_by_key ON thinning (key, row);
CREATE VIEW thinning_now AS
  SELECT * FROM thinning WHERE gone = 0 AND row IN (SELECT max(row) FROM thinning GROUP BY key);

CREATE TABLE pricking (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "sowing" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "plants" INTEGER NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX pricking_by_key ON pricking (key, row);
CREATE VIEW pricking_now AS
  SELECT * FROM pricking WHERE gone = 0 AND row IN (SELECT max(row) FROM pricking GROUP BY key);

CREATE TABLE measurement (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "sowing" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "stems" TEXT NOT NULL CHECK ("stems" LIKE '[%]'),
  "full" INTEGER NOT NULL CHECK ("full" IN (0, 1)),
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX measurement_by_key ON measurement (key, row);
CREATE VIEW measurement_now AS
  SELECT * FROM measurement WHERE gone = 0 AND row IN (SELECT max(row) FROM measurement GROUP BY key);

CREATE TABLE move (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "to" TEXT NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX move_by_key ON move (key, row);
CREATE VIEW move_now AS
  SELECT * FROM move WHERE gone = 0 AND row IN (SELECT max(row) FROM move GROUP BY key);

CREATE TABLE batch (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "pairing" TEXT NOT NULL,
  "scion" TEXT NOT NULL,
  "rootstock" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "method" TEXT NOT NULL,
  "by" TEXT NOT NULL,
  "rootstock_sowings" TEXT NOT NULL CHECK ("rootstock_sowings" LIKE '[%]'),
  "scion_sowings" TEXT NOT NULL CHECK ("scion_sowings" LIKE '[%]'),
  "grafts" TEXT NOT NULL CHECK ("grafts" LIKE '[%]'),
  "regime" TEXT NOT NULL,
  "regime_plan" TEXT NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX batch_by_key ON batch (key, row);
CREATE VIEW batch_now AS
  SELECT * FROM batch WHERE gone = 0 AND row IN (SELECT max(row) FROM batch GROUP BY key);

CREATE TABLE batch_event (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "batch" TEXT NOT NULL,
  "kind" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "hours" REAL NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX batch_event_by_key ON batch_event (key, row);
CREATE VIEW batch_event_now AS
  SELECT * FROM batch_event WHERE gone = 0 AND row IN (SELECT max(row) FROM batch_event GROUP BY key);

CREATE TABLE loss (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "count" INTEGER NOT NULL,
  "plants" TEXT NOT NULL CHECK ("plants" LIKE '[%]'),
  "cause" TEXT NOT NULL,
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX loss_by_key ON loss (key, row);
CREATE VIEW loss_now AS
  SELECT * FROM loss WHERE gone = 0 AND row IN (SELECT max(row) FROM loss GROUP BY key);

CREATE TABLE cull (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "count" INTEGER NOT NULL,
  "plants" TEXT NOT NULL CHECK ("plants" LIKE '[%]'),
  "given" INTEGER NOT NULL CHECK ("given" IN (0, 1)),
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX cull_by_key ON cull (key, row);
CREATE VIEW cull_now AS
  SELECT * FROM cull WHERE gone = 0 AND row IN (SELECT max(row) FROM cull GROUP BY key);

CREATE TABLE finish (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "batch" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "taken" INTEGER NOT NULL,
  "given" INTEGER NOT NULL,
  "early" INTEGER NOT NULL CHECK ("early" IN (0, 1)),
  "note" TEXT NOT NULL
) STRICT;
CREATE INDEX finish_by_key ON finish (key, row);
CREATE VIEW finish_now AS
  SELECT * FROM finish WHERE gone = 0 AND row IN (SELECT max(row) FROM finish GROUP BY key);

CREATE TABLE exposure (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "batch" TEXT NOT NULL,
  "at" TEXT NOT NULL,
  "observed" REAL,
  "document" TEXT NOT NULL
) STRICT;
CREATE INDEX exposure_by_key ON exposure (key, row);
CREATE VIEW exposure_now AS
  SELECT * FROM exposure WHERE gone = 0 AND row IN (SELECT max(row) FROM exposure GROUP BY key);

CREATE TABLE planned_sowing (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "lot" TEXT NOT NULL,
  "sow_on" TEXT NOT NULL,
  "seeds" INTEGER NOT NULL,
  "cells" INTEGER NOT NULL,
  "side" TEXT NOT NULL,
  "pairings" TEXT NOT NULL CHECK ("pairings" LIKE '[%]')
) STRICT;
CREATE INDEX planned_sowing_by_key ON planned_sowing (key, row);
CREATE VIEW planned_sowing_now AS
  SELECT * FROM planned_sowing WHERE gone = 0 AND row IN (SELECT max(row) FROM planned_sowing GROUP BY key);

CREATE TABLE planned_graft (
  row INTEGER PRIMARY KEY,
  key TEXT NOT NULL,
  command INTEGER NOT NULL REFERENCES command (id),
  gone INTEGER NOT NULL CHECK (gone IN (0, 1)),
  "id" TEXT NOT NULL,
  "pairing" TEXT NOT NULL,
  "graft_on" TEXT NOT NULL,
  "grafts" INTEGER NOT NULL
) STRICT;
CREATE INDEX planned_graft_by_key ON planned_graft (key, row);
CREATE VIEW planned_graft_now AS
  SELECT * FROM planned_graft WHERE gone = 0 AND row IN (SELECT max(row) FROM planned_graft GROUP BY key);
