#include "daemon/log/stretches.hpp"

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include "daemon/log/beside.hpp"
#include "daemon/log/columns.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace columns;

namespace {

struct StretchRows {
  Stretch stretch;
  LogRow past_row;  ///< one past its last
};

std::vector<StretchRows> stretches_between(SQLite::Database& database, Instant from, Instant to) {
  SQLite::Statement look(
      database,
      "SELECT first_row, begun_at_ms, (SELECT min(first_row) FROM stretch AS later WHERE "
      "later.first_row > stretch.first_row) FROM stretch WHERE begun_at_ms > ? AND begun_at_ms < ? "
      "ORDER BY begun_at_ms, first_row");
  look.bind(1, ms_of(from) - kLongestStretchMs - 1);
  look.bind(2, ms_of(to));
  std::vector<StretchRows> found;
  while (look.executeStep()) {
    const auto past = look.getColumn(2);
    found.push_back({{look.getColumn(0).getInt64(), look.getColumn(1).getInt64()},
                     past.isNull() ? std::numeric_limits<LogRow>::max() : past.getInt64()});
  }
  return found;
}

RawRow raw_row(const SQLite::Statement& look, std::int64_t begun_at_ms) {
  RawRow found{look.getColumn(0).getInt64(), look.getColumn(2).getInt64(), {}};
  found.reading.at = instant_of(begun_at_ms + look.getColumn(1).getInt64());
  found.reading.temperature = celsius_of(look.getColumn(3));
  found.reading.humidity = humidity_of(look.getColumn(4));
  found.reading.quality = static_cast<sensors::Quality>(look.getColumn(5).getInt());
  return found;
}

bool is_earlier(const RawRow& a, const RawRow& b) {
  return a.reading.at != b.reading.at ? a.reading.at < b.reading.at : a.row < b.row;
}

}  // namespace

std::optional<Stretch> last_stretch(SQLite::Database& database) {
  SQLite::Statement look(
      database, "SELECT first_row, begun_at_ms FROM stretch ORDER BY first_row DESC LIMIT 1");
  if (!look.executeStep()) return std::nullopt;
  return Stretch{look.getColumn(0).getInt64(), look.getColumn(1).getInt64()};
}

void each_row(SQLite::Database& database, Instant from, Instant to,
              std::optional<std::int64_t> probe, const std::function<void(const RawRow&)>& visit) {
  std::string wanted =
      "SELECT row, after_ms, probe, temperature_mdegc, humidity_mpct, quality FROM reading "
      "WHERE row >= ?1 AND row < ?2 AND after_ms >= ?3 AND after_ms < ?4";
  if (probe) wanted += " AND probe = ?5";
  SQLite::Statement look(database, wanted);
  if (probe) look.bind(5, *probe);
  BesideRows beside(database);
  const auto stretches = stretches_between(database, from, to);
  std::vector<RawRow> held;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const auto& [stretch, past_row] = stretches[i];
    look.reset();
    look.bind(1, stretch.first_row);
    look.bind(2, past_row);
    look.bind(3, ms_of(from) - stretch.begun_at_ms);
    look.bind(4, ms_of(to) - stretch.begun_at_ms);
    const auto kept_back = std::ptrdiff_t(held.size());
    while (look.executeStep()) held.push_back(raw_row(look, stretch.begun_at_ms));
    beside.fill({held.begin() + kept_back, held.end()});
    if (!std::is_sorted(held.begin(), held.end(), is_earlier)) {
      std::sort(held.begin(), held.end(), is_earlier);
    }
    // What the next stretch may still come before is kept back.
    const bool last = i + 1 == stretches.size();
    const auto over =
        last ? held.end() : std::find_if(held.begin(), held.end(), [&](const RawRow& row) {
          return ms_of(row.reading.at) >= stretches[i + 1].stretch.begun_at_ms;
        });
    std::for_each(held.begin(), over, visit);
    held.erase(held.begin(), over);
  }
}

}  // namespace takehold::daemon
