-- What a probe told beside the air, one row a value, in thousandths; kind: 1 leaf temperature (degC), 2 carbon
-- dioxide (ppm), 3 light (µmol m-2 s-1), 4 the humidity as the probe told it (%), where the reading's had to be
-- clipped to 0..100 and could not be had back from the correction.
CREATE TABLE beside (
  reading INTEGER NOT NULL REFERENCES reading (row) ON DELETE CASCADE,
  kind INTEGER NOT NULL,
  value_milli INTEGER NOT NULL,
  PRIMARY KEY (reading, kind)
) STRICT, WITHOUT ROWID;

-- Which correction the readings after a row went through: corrected = gain · told + offset (degC, percent).
CREATE TABLE calibration (
  probe INTEGER NOT NULL REFERENCES probe (id),
  after_row INTEGER NOT NULL,
  temperature_gain REAL NOT NULL,
  temperature_offset REAL NOT NULL,
  humidity_gain REAL NOT NULL,
  humidity_offset REAL NOT NULL,
  done_on TEXT,
  PRIMARY KEY (probe, after_row)
) STRICT, WITHOUT ROWID;

-- Every reading as the probe itself told it.
CREATE VIEW reading_as_told AS
SELECT reading.row, at_ms, name AS probe,
  CAST(round((temperature_mdegc - 1000 * coalesce(temperature_offset, 0)) / coalesce(temperature_gain, 1)) AS INTEGER)
    AS temperature_mdegc,
  coalesce(value_milli,
    CAST(round((humidity_mpct - 1000 * coalesce(humidity_offset, 0)) / coalesce(humidity_gain, 1)) AS INTEGER))
    AS humidity_mpct
FROM reading
JOIN probe ON probe.id = reading.probe
LEFT JOIN calibration ON calibration.probe = reading.probe AND after_row =
  (SELECT max(after_row) FROM calibration AS earlier WHERE earlier.probe = reading.probe AND after_row < reading.row)
LEFT JOIN beside ON beside.reading = reading.row AND kind = 4;
