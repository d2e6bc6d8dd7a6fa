#include "daemon/log/log_reader.hpp"

#include <algorithm>

#include "daemon/log/beside.hpp"
#include "daemon/log/chamber_log.hpp"
#include "daemon/log/columns.hpp"
#include "daemon/log/time_search.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;
using namespace columns;

namespace {

class LogFileReader final : public LogReader {
 public:
  explicit LogFileReader(const std::filesystem::path& file)
      : store_(Store::open(file, options())) {}

  std::vector<Bucket> buckets(const BucketQuery& query) override;
  std::vector<LoggedReading> readings(const std::string& probe, Instant from, Instant to) override;
  void each_reading(Instant from, Instant to,
                    const std::function<void(const Reading&)>& visit) override;
  std::vector<Warning> warnings(int limit) override;
  std::optional<Warning> warning(std::int64_t number) override;
  LoggedSince since(LogRow row, int limit) override;

 private:
  static StoreOptions options() {
    StoreOptions options;
    options.application_id = kChamberLogId;
    options.migrations = chamber_log_migrations();
    options.journal = Journal::wal;
    options.read_only = true;
    options.cache_kib = 512;
    return options;
  }
  void readings_since(LogRow row, int limit, LoggedSince& found);
  void events_since(LogRow row, int limit, LoggedSince& found);

  Store store_;
};

/// Grows with each value; asked for its spread at the end.
struct Gathered {
  double sum = 0, low = 0, high = 0;
  int count = 0;

  void add(double value) {
    low = count == 0 ? value : std::min(low, value);
    high = count == 0 ? value : std::max(high, value);
    sum += value;
    ++count;
  }
  std::optional<Bucket::Spread> spread() const {
    if (count == 0) return std::nullopt;
    return Bucket::Spread{sum / count, low, high};
  }
};

bool charted(const Reading& reading) {
  return reading.quality == sensors::Quality::good || reading.quality == sensors::Quality::suspect;
}

std::vector<Bucket> LogFileReader::buckets(const BucketQuery& query) {
  struct Cell {
    Gathered temperature, humidity;
  };
  const auto points = std::size_t(std::clamp(query.points, 1, 2000));
  std::vector<Cell> cells(points);
  const auto span = query.to - query.from;
  for (const auto& [row, reading] : readings(query.probe, query.from, query.to)) {
    if (!charted(reading)) continue;
    const auto index = std::size_t((reading.at - query.from) * std::int64_t(points) / span);
    auto& cell = cells[std::min(index, points - 1)];
    if (reading.temperature) cell.temperature.add(reading.temperature->degc());
    if (reading.humidity) cell.humidity.add(reading.humidity->pct());
  }
  std::vector<Bucket> buckets;
  for (std::size_t i = 0; i < points; ++i) {
    buckets.push_back({query.from + span * std::int64_t(i) / std::int64_t(points),
                       cells[i].temperature.spread(), cells[i].humidity.spread()});
  }
  return buckets;
}

std::vector<LoggedReading> LogFileReader::readings(const std::string& probe, Instant from,
                                                   Instant to) {
  constexpr auto kColumns =
      "SELECT row, at_ms, name, temperature_mdegc, humidity_mpct, quality "
      "FROM reading JOIN probe ON probe.id = reading.probe WHERE name = ?1 ";
  SQLite::Statement look(store_.database(),
                         std::string(kColumns) +
                             "AND late = 0 AND row >= ?2 AND row < ?3 "
                             "UNION ALL " +
                             kColumns +
                             "AND late = 1 AND at_ms >= ?4 AND at_ms < ?5 ORDER BY 2, 1");
  look.bind(1, probe);
  look.bind(2, first_row_at(store_.database(), from));
  look.bind(3, first_row_at(store_.database(), to));
  look.bind(4, ms_of(from));
  look.bind(5, ms_of(to));
  std::vector<LoggedReading> found;
  while (look.executeStep()) found.push_back(reading_of(look));
  return found;
}

void LogFileReader::each_reading(Instant from, Instant to,
                                 const std::function<void(const Reading&)>& visit) {
  constexpr auto kColumns =
      "SELECT row, at_ms, name, temperature_mdegc, humidity_mpct, quality "
      "FROM reading JOIN probe ON probe.id = reading.probe WHERE ";
  SQLite::Statement look(store_.database(),
                         std::string(kColumns) + "late = 0 AND row >= ? AND row < ? ORDER BY row");
  look.bind(1, first_row_at(store_.database(), from));
  look.bind(2, first_row_at(store_.database(), to));
  // The late ones are few, and are put in their places on the way.
  SQLite::Statement late(
      store_.database(),
      std::string(kColumns) + "late = 1 AND at_ms >= ? AND at_ms < ? ORDER BY at_ms, row");
  late.bind(1, ms_of(from));
  late.bind(2, ms_of(to));
  bool more_late = late.executeStep();
  while (look.executeStep()) {
    for (; more_late && late.getColumn(1).getInt64() < look.getColumn(1).getInt64();
         more_late = late.executeStep()) {
      visit(reading_of(late).reading);
    }
    visit(reading_of(look).reading);
  }
  for (; more_late; more_late = late.executeStep()) visit(reading_of(late).reading);
}

std::vector<Warning> LogFileReader::warnings(int limit) {
  SQLite::Statement look(store_.database(), std::string("SELECT ") + kWarningColumns +
                                                " FROM warning ORDER BY number DESC LIMIT ?");
  look.bind(1, limit);
  std::vector<Warning> found;
  while (look.executeStep()) found.push_back(warning_of(look, 0));
  return found;
}

std::optional<Warning> LogFileReader::warning(std::int64_t number) {
  SQLite::Statement look(store_.database(), std::string("SELECT ") + kWarningColumns +
                                                " FROM warning WHERE number = ?");
  look.bind(1, number);
  if (!look.executeStep()) return std::nullopt;
  return warning_of(look, 0);
}

LoggedSince LogFileReader::since(LogRow row, int limit) {
  LoggedSince found;
  readings_since(row, limit, found);
  events_since(row, limit, found);
  return found;
}

void LogFileReader::readings_since(LogRow row, int limit, LoggedSince& found) {
  SQLite::Statement look(store_.database(),
                         "SELECT row, at_ms, name, temperature_mdegc, humidity_mpct, quality "
                         "FROM reading JOIN probe ON probe.id = reading.probe "
                         "WHERE row > ? ORDER BY row LIMIT ?");
  look.bind(1, row);
  look.bind(2, limit);
  while (look.executeStep()) found.readings.push_back(reading_of(look));
  for (auto& logged : found.readings) read_beside(store_.database(), logged);
}

void LogFileReader::events_since(LogRow row, int limit, LoggedSince& found) {
  SQLite::Statement look(store_.database(),
                         std::string("SELECT row, at_ms, type, event.about, event.text, "
                                     "event.warning, ") +
                             kWarningColumns +
                             " FROM event LEFT JOIN warning ON warning.number = event.warning "
                             "WHERE row > ? ORDER BY row LIMIT ?");
  look.bind(1, row);
  look.bind(2, limit);
  while (look.executeStep()) {
    LoggedEvent logged;
    logged.row = look.getColumn(0).getInt64();
    logged.event.at = instant_of(look.getColumn(1).getInt64());
    logged.event.type = static_cast<EventType>(look.getColumn(2).getInt());
    logged.event.about = look.getColumn(3).getString();
    logged.event.text = look.getColumn(4).getString();
    if (!look.getColumn(5).isNull()) logged.event.warning = warning_of(look, 6);
    found.events.push_back(std::move(logged));
  }
}

}  // namespace

std::unique_ptr<LogReader> open_log_reader(const std::filesystem::path& file) {
  return std::make_unique<LogFileReader>(file);
}

}  // namespace takehold::daemon
