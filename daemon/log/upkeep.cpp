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
  newest_at_.reset();
  rollups_.resume(std::nullopt);
  const bool never_set = at - by < kFirstClock && at >= kFirstClock;
  if (never_set) redate(by);
  transaction.commit();
}

/// A reading's time counts from its stretch, so that stretches are moved and no reading.
void ChamberLog::redate(std::chrono::milliseconds by) {
  auto& database = store_.database();
  SQLite::Statement look(database,
                         "SELECT min(first_row), min(begun_at_ms) FROM stretch WHERE first_row > ? "
                         "AND begun_at_ms < ?");
  look.bind(1, row_at_opening_);
  look.bind(2, ms_of(kFirstClock));
  look.executeStep();
  if (look.getColumn(0).isNull()) return;
  const LogRow first = look.getColumn(0).getInt64();
  const Instant begun = instant_of(look.getColumn(1).getInt64());
  const auto move = [&](const char* sql) {
    SQLite::Statement update(database, sql);
    update.bind(1, static_cast<std::int64_t>(by.count()));
    update.bind(2, first);
    update.bind(3, ms_of(kFirstClock));
    update.exec();
  };
  rollups_.erase(begun, kFirstClock);
  move("UPDATE stretch SET begun_at_ms = begun_at_ms + ? WHERE first_row >= ? AND begun_at_ms < ?");
  move(
      "UPDATE warning SET raised_at_ms = raised_at_ms + ?1 WHERE raised_at_ms < ?3 AND number IN "
      "(SELECT warning FROM event WHERE row >= ?2)");
  move("UPDATE event SET at_ms = at_ms + ? WHERE row >= ? AND at_ms < ?");
  SQLite::Statement note(database, "INSERT INTO redated VALUES (?,?,?)");
  note.bind(1, first);
  note.bind(2, last_row_ + 1);
  note.bind(3, static_cast<std::int64_t>(by.count()));
  note.exec();
  stretch_ = last_stretch(database);
  SQLite::Statement newest(database, "SELECT max(at_ms) FROM reading_at WHERE row >= ?");
  newest.bind(1, first);
  newest.executeStep();
  newest_at_ = instant_of(newest.getColumn(0).getInt64());
  rollups_.make_anew(begun + by, *newest_at_);
}

void ChamberLog::make_rollups() {
  auto& database = store_.database();
  SQLite::Statement oldest(database, "SELECT min(begun_at_ms) FROM stretch");
  oldest.executeStep();
  if (oldest.getColumn(0).isNull() || !newest_at_) return;
  const Instant begun = instant_of(oldest.getColumn(0).getInt64());
  oldest.reset();
  Transaction transaction(store_);
  rollups_.make_anew(begun, *newest_at_);
  transaction.commit();
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
    const auto key = rollup_key(before, level.length, 0);
    for (const auto& [table, past] :
         {std::pair(level.table, key), std::pair(level.beside_table, key * kMostKinds)}) {
      SQLite::Statement rollups(database, std::string("DELETE FROM ") + table +
                                              " WHERE key IN (SELECT key FROM " + table +
                                              " WHERE key < ? ORDER BY key LIMIT ?)");
      rollups.bind(1, past);
      rollups.bind(2, most);
      rollups.exec();
    }
  }
  transaction.commit();
  return end < bound;
}

}  // namespace takehold::daemon
