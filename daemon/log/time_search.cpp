#include "daemon/log/time_search.hpp"

#include "daemon/log/columns.hpp"

namespace takehold::daemon {

LogRow first_row_at(SQLite::Database& database, sensors::Instant at) {
  LogRow low = database.execAndGet("SELECT coalesce(min(row), 0) FROM reading").getInt64();
  LogRow high = database.execAndGet("SELECT coalesce(max(row), 0) + 1 FROM reading").getInt64();
  SQLite::Statement next(database,
                         "SELECT row, at_ms FROM reading WHERE row >= ? AND late = 0 "
                         "ORDER BY row LIMIT 1");
  while (low < high) {
    const LogRow middle = low + (high - low) / 2;
    next.reset();
    next.bind(1, middle);
    // Rows from `middle` to the one found hold no reading of the order searched.
    if (next.executeStep() && columns::instant_of(next.getColumn(1).getInt64()) < at) {
      low = next.getColumn(0).getInt64() + 1;
    } else {
      high = middle;
    }
  }
  next.reset();
  next.bind(1, low);
  if (next.executeStep()) return next.getColumn(0).getInt64();
  return low;
}

}  // namespace takehold::daemon
