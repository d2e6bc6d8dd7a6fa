#include "daemon/log/chamber_log.hpp"

#include <algorithm>

#include "daemon/log/beside.hpp"
#include "daemon/log/columns.hpp"
#include "daemon/log/time_search.hpp"
#include "daemon/store/transaction.hpp"
#include "embedded/chamber_log_schema.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;
using namespace columns;

namespace {

StoreOptions log_options(bool synced) {
  StoreOptions options;
  options.application_id = kChamberLogId;
  options.migrations = chamber_log_migrations();
  options.journal = Journal::wal;
  options.cache_kib = 512;
  options.synced = synced;
  return options;
}

std::int64_t one_number(SQLite::Database& database, const char* sql) {
  return database.execAndGet(sql).getInt64();
}

void write_warning(SQLite::Database& database, const Warning& warning) {
  SQLite::Statement put(database,
                        "INSERT INTO warning VALUES (?1,?2,?3,?4,?5,?6,?7,?8,?9,?10,?11) "
                        "ON CONFLICT (number) DO UPDATE SET cleared_at_ms = ?8, "
                        "acknowledged_at_ms = ?9, shelved_until_ms = ?10");
  put.bind(1, warning.number);
  put.bind(2, static_cast<int>(warning.kind));
  put.bind(3, static_cast<int>(warning.cause));
  bind_optional(put, 4, warning.probe);
  put.bind(5, warning.about);
  put.bind(6, warning.below ? 1 : 0);
  put.bind(7, ms_of(warning.raised_at));
  bind_optional(put, 8, ms_of(warning.cleared_at));
  bind_optional(put, 9, ms_of(warning.acknowledged_at));
  bind_optional(put, 10, ms_of(warning.shelved_until));
  put.bind(11, warning.text);
  put.exec();
}

}  // namespace

std::vector<Migration> chamber_log_migrations() {
  return migrations_of(embedded::chamber_log_schema);
}

ChamberLog::ChamberLog(const std::filesystem::path& file, bool synced)
    : store_(Store::open(file, log_options(synced))) {
  auto& database = store_.database();
  last_row_ = std::max(one_number(database, "SELECT coalesce(max(row), 0) FROM reading"),
                       one_number(database, "SELECT coalesce(max(row), 0) FROM event"));
  SQLite::Statement newest(database,
                           "SELECT at_ms FROM reading WHERE late = 0 ORDER BY row DESC LIMIT 1");
  if (newest.executeStep()) newest_at_ = instant_of(newest.getColumn(0).getInt64());
  SQLite::Statement probes(database, "SELECT id, name FROM probe");
  while (probes.executeStep()) {
    probes_[probes.getColumn(1).getString()] = probes.getColumn(0).getInt64();
  }
}

void ChamberLog::add_probe(const std::string& name, const std::string& place,
                           const sensors::Calibration& calibration) {
  Transaction transaction(store_);
  SQLite::Statement put(store_.database(),
                        "INSERT INTO probe (name, place) VALUES (?1, ?2) "
                        "ON CONFLICT (name) DO UPDATE SET place = ?2 RETURNING id");
  put.bind(1, name);
  put.bind(2, place);
  put.executeStep();
  const std::int64_t id = put.getColumn(0).getInt64();
  put.reset();
  note_calibration(store_.database(), id, last_row_, calibration);
  transaction.commit();
  probes_[name] = id;
}

LoggedRound ChamberLog::write(std::span<const Reading> readings, std::span<const Event> events) {
  LoggedRound round;
  const auto newest_before = newest_at_;
  try {
    Transaction transaction(store_);
    LogRow row = last_row_;
    for (const auto& reading : readings)
      round.readings.push_back({insert(reading, ++row), reading});
    for (const auto& event : events) {
      insert(event, ++row);
      round.events.push_back({row, event});
    }
    transaction.commit();
    last_row_ = row;
  } catch (...) {
    newest_at_ = newest_before;
    throw;
  }
  return round;
}

LogRow ChamberLog::insert(const Reading& reading, LogRow row) {
  SQLite::Statement put(store_.database(), "INSERT INTO reading VALUES (?,?,?,?,?,?,?)");
  const bool late = newest_at_ && reading.at < *newest_at_;
  put.bind(1, row);
  put.bind(2, ms_of(reading.at));
  put.bind(3, probes_.at(reading.probe));
  bind_optional(put, 4, milli(reading.temperature));
  bind_optional(put, 5, milli(reading.humidity));
  put.bind(6, static_cast<int>(reading.quality));
  put.bind(7, late ? 1 : 0);
  put.exec();
  write_beside(store_.database(), reading, row);
  if (!late) newest_at_ = reading.at;
  return row;
}

void ChamberLog::insert(const Event& event, LogRow row) {
  if (event.warning) write_warning(store_.database(), *event.warning);
  SQLite::Statement put(store_.database(), "INSERT INTO event VALUES (?,?,?,?,?,?)");
  put.bind(1, row);
  put.bind(2, ms_of(event.at));
  put.bind(3, static_cast<int>(event.type));
  bind_optional(put, 4, event.warning ? std::optional(event.warning->number) : std::nullopt);
  put.bind(5, event.about);
  put.bind(6, event.text);
  put.exec();
}

void ChamberLog::save(const Warning& warning) {
  Transaction transaction(store_);
  write_warning(store_.database(), warning);
  transaction.commit();
}

void ChamberLog::save(const OccupantRecord& occupant) {
  Transaction transaction(store_);
  SQLite::Statement put(store_.database(),
                        "INSERT INTO occupant VALUES (?1,?2,?3,?4,?5,?6) ON CONFLICT (label) DO "
                        "UPDATE SET book = ?2, revision = ?3, entered_at_ms = ?4, left_at_ms = ?5, "
                        "body = ?6");
  put.bind(1, occupant.label);
  put.bind(2, occupant.book);
  put.bind(3, occupant.revision);
  put.bind(4, ms_of(occupant.entered_at));
  bind_optional(put, 5, ms_of(occupant.left_at));
  put.bind(6, occupant.body);
  put.exec();
  transaction.commit();
}

bool ChamberLog::has_reading(const std::string& probe, Instant at) {
  const auto found = probes_.find(probe);
  if (found == probes_.end()) return false;
  SQLite::Statement look(store_.database(),
                         "SELECT 1 FROM reading WHERE row >= ?1 AND row < ?2 AND at_ms = ?3 "
                         "AND probe = ?4 AND late = 0 UNION ALL "
                         "SELECT 1 FROM reading WHERE late = 1 AND at_ms = ?3 AND probe = ?4");
  look.bind(1, first_row_at(store_.database(), at));
  look.bind(2, first_row_at(store_.database(), at + std::chrono::milliseconds(1)));
  look.bind(3, ms_of(at));
  look.bind(4, found->second);
  return look.executeStep();
}

std::int64_t ChamberLog::last_warning_number() {
  return one_number(store_.database(), "SELECT coalesce(max(number), 0) FROM warning");
}

std::vector<Warning> ChamberLog::open_warnings(int limit) {
  SQLite::Statement look(store_.database(),
                         std::string("SELECT ") + kWarningColumns +
                             " FROM warning WHERE cleared_at_ms IS NULL OR acknowledged_at_ms IS "
                             "NULL ORDER BY cleared_at_ms IS NULL DESC, number DESC LIMIT ?");
  look.bind(1, limit);
  std::vector<Warning> found;
  while (look.executeStep()) found.push_back(warning_of(look, 0));
  std::sort(found.begin(), found.end(),
            [](const Warning& a, const Warning& b) { return a.number < b.number; });
  return found;
}

std::vector<OccupantRecord> ChamberLog::occupants() {
  SQLite::Statement look(store_.database(),
                         "SELECT label, book, revision, entered_at_ms, left_at_ms, body "
                         "FROM occupant ORDER BY entered_at_ms, label");
  std::vector<OccupantRecord> found;
  while (look.executeStep()) found.push_back(occupant_of(look));
  return found;
}

std::optional<OccupantRecord> ChamberLog::occupant(const std::string& label) {
  SQLite::Statement look(store_.database(),
                         "SELECT label, book, revision, entered_at_ms, left_at_ms, body "
                         "FROM occupant WHERE label = ?");
  look.bind(1, label);
  if (!look.executeStep()) return std::nullopt;
  return occupant_of(look);
}

}  // namespace takehold::daemon
