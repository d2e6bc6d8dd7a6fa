#include "daemon/log/log_reader.hpp"

#include <algorithm>
#include <limits>
#include <map>

#include "daemon/log/beside.hpp"
#include "daemon/log/chamber_log.hpp"
#include "daemon/log/chart.hpp"
#include "daemon/log/columns.hpp"
#include "daemon/log/stretches.hpp"
#include "daemon/store/copy.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;
using namespace columns;

namespace {

StoreOptions reading_only() {
  StoreOptions options;
  options.application_id = kChamberLogId;
  options.migrations = chamber_log_migrations();
  options.journal = Journal::wal;
  options.read_only = true;
  options.cache_kib = 512;
  return options;
}

class LogFileReader final : public LogReader {
 public:
  explicit LogFileReader(const std::filesystem::path& file)
      : store_(Store::open(file, reading_only())) {}

  std::vector<std::vector<Bucket>> buckets(const BucketQuery& query) override;
  std::vector<LoggedReading> readings(const std::string& probe, Instant from, Instant to) override;
  void each_reading(Instant from, Instant to,
                    const std::function<void(const Reading&)>& visit) override;
  std::vector<Warning> warnings(int limit) override;
  std::optional<Warning> warning(std::int64_t number) override;
  LoggedSince since(LogRow row, int limit) override;

 private:
  std::map<std::string, std::int64_t> probe_numbers();
  void readings_since(LogRow row, int limit, LoggedSince& found);
  void events_since(LogRow row, int limit, LoggedSince& found);

  Store store_;
};

std::map<std::string, std::int64_t> LogFileReader::probe_numbers() {
  std::map<std::string, std::int64_t> numbers;
  SQLite::Statement look(store_.database(), "SELECT name, id FROM probe");
  while (look.executeStep()) numbers[look.getColumn(0).getString()] = look.getColumn(1).getInt64();
  return numbers;
}

std::vector<std::vector<Bucket>> LogFileReader::buckets(const BucketQuery& query) {
  const auto numbers = probe_numbers();
  std::vector<std::int64_t> probes;
  for (const auto& name : query.probes) {
    const auto found = numbers.find(name);
    probes.push_back(found == numbers.end() ? 0 : found->second);  // 0 is no probe's number
  }
  Chart chart(query.from, query.to, std::clamp(query.points, 1, 2000), std::move(probes));
  chart.fill(store_.database());
  return chart.buckets();
}

std::vector<LoggedReading> LogFileReader::readings(const std::string& probe, Instant from,
                                                   Instant to) {
  std::vector<LoggedReading> found;
  const auto numbers = probe_numbers();
  const auto number = numbers.find(probe);
  if (number == numbers.end()) return found;
  each_row(store_.database(), from, to, number->second, [&](const RawRow& row) {
    found.push_back({row.row, row.reading});
    found.back().reading.probe = probe;
  });
  return found;
}

void LogFileReader::each_reading(Instant from, Instant to,
                                 const std::function<void(const Reading&)>& visit) {
  std::map<std::int64_t, std::string> names;
  for (const auto& [name, number] : probe_numbers()) names[number] = name;
  each_row(store_.database(), from, to, std::nullopt, [&](const RawRow& row) {
    Reading reading = row.reading;
    reading.probe = names[row.probe];
    visit(reading);
  });
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
  // Of both together no row may be passed over: where one list was cut, the other ends as well.
  LogRow end = std::numeric_limits<LogRow>::max();
  if (int(found.readings.size()) == limit) end = std::min(end, found.readings.back().row);
  if (int(found.events.size()) == limit) end = std::min(end, found.events.back().row);
  std::erase_if(found.readings, [&](const auto& logged) { return logged.row > end; });
  std::erase_if(found.events, [&](const auto& logged) { return logged.row > end; });
  return found;
}

void LogFileReader::readings_since(LogRow row, int limit, LoggedSince& found) {
  SQLite::Statement look(store_.database(),
                         "SELECT row, at_ms, probe, temperature_mdegc, humidity_mpct, quality "
                         "FROM reading_at WHERE row > ? ORDER BY row LIMIT ?");
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

void back_up_log(const std::filesystem::path& file, const std::filesystem::path& to) {
  Store store = Store::open(file, reading_only());
  copy_database(store.database(), to);
}

std::string check_log(const std::filesystem::path& file) {
  Store store = Store::open(file, reading_only());
  return store.database().execAndGet("PRAGMA quick_check(1)").getString();
}

std::unique_ptr<LogReader> open_log_reader(const std::filesystem::path& file) {
  return std::make_unique<LogFileReader>(file);
}

}  // namespace takehold::daemon
