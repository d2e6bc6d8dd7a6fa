// What is done to the chamber log besides writing what happens: gaps, the clock, age.

#include <algorithm>

#include "daemon/log/chamber_log.hpp"
#include "daemon/log/columns.hpp"
#include "daemon/store/transaction.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace columns;

void ChamberLog::note_gap(Instant from, Instant to, Gap::Why why) {
  Transaction transaction(store_);
  SQLite::Statement put(store_.database(), "INSERT INTO gap VALUES (?,?,?)");
  put.bind(1, ms_of(from));
  put.bind(2, ms_of(to));
  put.bind(3, static_cast<int>(why));
  put.exec();
  transaction.commit();
}

void ChamberLog::note_clock_step(Instant at, std::chrono::milliseconds by) {
  Transaction transaction(store_);
  SQLite::Statement put(store_.database(), "INSERT INTO clock_step VALUES (?,?,?)");
  put.bind(1, last_row_);
  put.bind(2, ms_of(at));
  put.bind(3, static_cast<std::int64_t>(by.count()));
  put.exec();
  transaction.commit();
  newest_at_.reset();
  rollups_.resume(store_.database(), std::nullopt);
}

bool ChamberLog::prune(Instant before, int most) {
  auto& database = store_.database();
  // A stretch goes when all it can hold is too old.
  SQLite::Statement first_kept(
      database, "SELECT coalesce(min(first_row), 0) FROM stretch WHERE begun_at_ms + ? >= ?");
  first_kept.bind(1, kLongestStretchMs);
  first_kept.bind(2, ms_of(before));
  first_kept.executeStep();
  LogRow bound = first_kept.getColumn(0).getInt64();
  first_kept.reset();
  if (bound == 0) bound = last_row_ + 1;
  const LogRow begin = database.execAndGet("SELECT coalesce(min(row), 0) FROM reading").getInt64();
  if (begin == 0 || begin >= bound) return false;
  Transaction transaction(store_);
  const LogRow end = std::min<LogRow>(begin + most, bound);
  SQLite::Statement readings(database, "DELETE FROM reading WHERE row < ?");
  readings.bind(1, end);
  readings.exec();
  // The newest stretch stays: it is the one that is written into.
  SQLite::Statement stretches(
      database,
      "DELETE FROM stretch WHERE first_row < (SELECT max(first_row) FROM stretch WHERE first_row "
      "<= ?)");
  stretches.bind(1, end);
  stretches.exec();
  for (const auto& level : kRollupLevels) {
    if (level.length >= std::chrono::hours(1)) continue;
    SQLite::Statement rollups(database, std::string("DELETE FROM ") + level.table +
                                            " WHERE key IN (SELECT key FROM " + level.table +
                                            " WHERE key < ? ORDER BY key LIMIT ?)");
    rollups.bind(1, rollup_key(before, level.length, 0));
    rollups.bind(2, most);
    rollups.exec();
  }
  transaction.commit();
  return end < bound;
}

}  // namespace takehold::daemon
