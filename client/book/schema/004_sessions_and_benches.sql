-- A graft session tells more of itself, an accepted plan what it promised, and the temperatures
-- that a bench's probe logged are kept. Views are made anew, for their columns were fixed when they
-- were made.

ALTER TABLE batch ADD COLUMN "started_at" TEXT;
ALTER TABLE batch ADD COLUMN "clip_mm" REAL;
ALTER TABLE batch ADD COLUMN "cut_angle_deg" REAL;
ALTER TABLE batch ADD COLUMN "lamp_umol" REAL;
ALTER TABLE batch ADD COLUMN "humidity_pct" REAL;
ALTER TABLE batch ADD COLUMN "repairs" TEXT NOT NULL DEFAULT '';

DROP VIEW batch_now;
CREATE VIEW batch_now AS
  SELECT * FROM batch WHERE gone = 0 AND row IN (SELECT max(row) FROM batch GROUP BY key);

ALTER TABLE planned_graft ADD COLUMN "probability" REAL;
DROP VIEW planned_graft_now;
CREATE VIEW planned_graft_now AS
  SELECT * FROM planned_graft WHERE gone = 0 AND row IN (SELECT max(row) FROM planned_graft GROUP BY key);

-- Means of whole hours, as the daemon told them: facts, not records of the grower, so that no undo
-- takes them back. `hour` counts from 1970-01-01T00:00:00Z.
CREATE TABLE bench_hour (
  bench TEXT NOT NULL,
  hour INTEGER NOT NULL,
  mean_degc REAL NOT NULL,
  PRIMARY KEY (bench, hour)
) STRICT, WITHOUT ROWID;
