-- Readings take less room, and charts of any span are quick.
--
-- A stretch is a run of readings written one after the other: reading.after_ms counts from its begun_at_ms and never
-- is less than 0 or more than 8388607 (three bytes on disk). One that does not fit begins the next stretch: every two
-- hours, after a pause, after the clock was set, and when a probe delivers what it had kept for long.
CREATE TABLE stretch (
  first_row INTEGER PRIMARY KEY,
  begun_at_ms INTEGER NOT NULL
) STRICT;
INSERT INTO stretch
SELECT row, at_ms / 8000000 * 8000000
FROM (SELECT row, at_ms, lag(at_ms / 8000000) OVER (ORDER BY row) AS before FROM reading)
WHERE before IS NULL OR before <> at_ms / 8000000;
CREATE INDEX stretch_time ON stretch (begun_at_ms);

DROP VIEW reading_as_told;
DROP INDEX reading_late;
CREATE TABLE reading_now (
  row INTEGER PRIMARY KEY,
  after_ms INTEGER NOT NULL,
  probe INTEGER NOT NULL REFERENCES probe (id),
  temperature_mdegc INTEGER,
  humidity_mpct INTEGER,
  quality INTEGER NOT NULL
) STRICT;
INSERT INTO reading_now
SELECT row, at_ms - (SELECT begun_at_ms FROM stretch WHERE first_row <= reading.row ORDER BY first_row DESC LIMIT 1),
  probe, temperature_mdegc, humidity_mpct, quality
FROM reading;
DROP TABLE reading;
ALTER TABLE reading_now RENAME TO reading;

-- For people with a SQLite shell: each reading with its time.
CREATE VIEW reading_at AS
SELECT row, after_ms + (SELECT begun_at_ms FROM stretch WHERE first_row <= reading.row ORDER BY first_row DESC LIMIT 1)
  AS at_ms, name AS probe, temperature_mdegc, humidity_mpct, quality
FROM reading JOIN probe ON probe.id = reading.probe;

-- Every reading as the probe itself told it.
CREATE VIEW reading_as_told AS
SELECT reading.row, at_ms, name AS probe,
  CAST(round((reading.temperature_mdegc - 1000 * coalesce(temperature_offset, 0)) / coalesce(temperature_gain, 1)) AS INTEGER)
    AS temperature_mdegc,
  coalesce(value_milli,
    CAST(round((reading.humidity_mpct - 1000 * coalesce(humidity_offset, 0)) / coalesce(humidity_gain, 1)) AS INTEGER))
    AS humidity_mpct
FROM reading
JOIN reading_at ON reading_at.row = reading.row
JOIN probe ON probe.id = reading.probe
LEFT JOIN calibration ON calibration.probe = reading.probe AND after_row =
  (SELECT max(after_row) FROM calibration AS earlier WHERE earlier.probe = reading.probe AND after_row < reading.row)
LEFT JOIN beside ON beside.reading = reading.row AND kind = 4;

-- What happened in a minute, ten minutes, an hour: key = number of it since 1970 * 4096 + probe. Means are weighted by
-- time (observed_ms of it was seen), lows and highs are of readings; count is of readings good and suspect.
CREATE TABLE rollup_minute (
  key INTEGER PRIMARY KEY, count INTEGER NOT NULL, observed_ms INTEGER NOT NULL,
  temperature_mean INTEGER, temperature_low INTEGER, temperature_high INTEGER,
  humidity_mean INTEGER, humidity_low INTEGER, humidity_high INTEGER
) STRICT;
CREATE TABLE rollup_ten_minutes (
  key INTEGER PRIMARY KEY, count INTEGER NOT NULL, observed_ms INTEGER NOT NULL,
  temperature_mean INTEGER, temperature_low INTEGER, temperature_high INTEGER,
  humidity_mean INTEGER, humidity_low INTEGER, humidity_high INTEGER
) STRICT;
CREATE TABLE rollup_hour (
  key INTEGER PRIMARY KEY, count INTEGER NOT NULL, observed_ms INTEGER NOT NULL,
  temperature_mean INTEGER, temperature_low INTEGER, temperature_high INTEGER,
  humidity_mean INTEGER, humidity_low INTEGER, humidity_high INTEGER
) STRICT;

-- Times that nobody watched: why is 1 chamberd did not run, 2 readings were given up because the disk failed for long.
CREATE TABLE gap (
  from_ms INTEGER NOT NULL,
  to_ms INTEGER NOT NULL,
  why INTEGER NOT NULL
) STRICT;

-- The clock of the machine was set by by_ms after the reading after_row was written, and then showed at_ms.
CREATE TABLE clock_step (
  after_row INTEGER NOT NULL,
  at_ms INTEGER NOT NULL,
  by_ms INTEGER NOT NULL
) STRICT;
