-- What a probe told beside the air, gathered as the air is: key = that of the air's rollup * 16 + beside.kind (1 leaf
-- temperature, 2 carbon dioxide, 3 light), values in thousandths.
CREATE TABLE rollup_beside_minute (
  key INTEGER PRIMARY KEY, count INTEGER NOT NULL, observed_ms INTEGER NOT NULL, mean INTEGER, low INTEGER, high INTEGER
) STRICT;
CREATE TABLE rollup_beside_ten_minutes (
  key INTEGER PRIMARY KEY, count INTEGER NOT NULL, observed_ms INTEGER NOT NULL, mean INTEGER, low INTEGER, high INTEGER
) STRICT;
CREATE TABLE rollup_beside_hour (
  key INTEGER PRIMARY KEY, count INTEGER NOT NULL, observed_ms INTEGER NOT NULL, mean INTEGER, low INTEGER, high INTEGER
) STRICT;

-- The clock of this machine was not set when these readings were taken; they were dated anew when it was, by by_ms.
CREATE TABLE redated (
  first_row INTEGER NOT NULL,
  past_row INTEGER NOT NULL,
  by_ms INTEGER NOT NULL
) STRICT;
