// The rows that stand beside a reading's own: extra quantities, and what a correction hid. Only for
// the sources of this folder.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "daemon/log/records.hpp"
#include "daemon/log/stretches.hpp"
#include "sensors/check/calibration.hpp"

namespace takehold::daemon {

/// Writes what `reading` has beside its air; `row` must be written already.
void write_beside(SQLite::Database& database, const sensors::Reading& reading, LogRow row);
/// Fills in what was written beside the reading of `logged.row`.
void read_beside(SQLite::Database& database, LoggedReading& logged);

/// The same for runs of rows, in order of row.
class BesideRows {
 public:
  explicit BesideRows(SQLite::Database& database);
  void fill(std::span<RawRow> rows);

 private:
  SQLite::Statement look_;
};

/// Notes that readings of `probe` after `row` go through this correction, if that is news.
void note_calibration(SQLite::Database& database, std::int64_t probe, LogRow row,
                      const sensors::Calibration& calibration);

}  // namespace takehold::daemon
