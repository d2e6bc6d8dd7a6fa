#include "daemon/log/chamber_log.hpp"

#include <algorithm>

#include "daemon/log/beside.hpp"
#include "daemon/log/columns.hpp"
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

/// Late deliveries may be the last rows; a clock that was set makes what came before no measure.
/// ONE lower bound for `row`: of two SQLite searches by one and looks through a year for the other.
std::optional<Instant> newest_since_clock_step(SQLite::Database& database) {
  SQLite::Statement look(
      database,
      "SELECT max(begun_at_ms + after_ms) FROM (SELECT first_row, begun_at_ms, lead(first_row, 1, "
      "9223372036854775807) OVER (ORDER BY first_row) AS past FROM stretch ORDER BY first_row DESC "
      "LIMIT 3) CROSS JOIN reading WHERE row >= max(first_row, (SELECT coalesce(max(after_row), 0) "
      "+ 1 FROM clock_step)) AND row < past");
  if (!look.executeStep()) return std::nullopt;
  return optional_instant(look.getColumn(0));
}

std::int64_t one_number(SQLite::Database& database, const char* sql) {
  return database.execAndGet(sql).getInt64();
}

void write_warning(SQLite::Database& database, const Warning& warning) {
  SQLite::Statement put(database,
                        "INSERT INTO warning VALUES (?1,?2,?3,?4,?5,?6,?7,?8,?9,?10,?11,?12,?13) "
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
  bind_optional(put, 12, ms_of(warning.breach_at));
  bind_optional(put, 13, warning.follows);
  put.exec();
}

}  // namespace

std::vector<Migration> chamber_log_migrations() {
  return migrations_of(embedded::chamber_log_schema);
}

ChamberLog::ChamberLog(const std::filesystem::path& file, bool synced)
    : store_(Store::open(file, log_options(synced))), rollups_(store_.database()) {
  auto& database = store_.database();
  last_row_ = std::max(one_number(database, "SELECT coalesce(max(row), 0) FROM reading"),
                       one_number(database, "SELECT coalesce(max(row), 0) FROM event"));
  stretch_ = last_stretch(database);
  // What a clock that is not set yet dates begins a stretch of its own: see redate.
  if (stretch_ && stretch_->begun_at_ms < ms_of(kFirstClock)) stretch_.reset();
  newest_at_ = newest_since_clock_step(database);
  row_at_opening_ = last_row_;
  if (store_.copy_before_migration().empty()) {
    rollups_.resume(newest_at_);
  } else {
    make_rollups();
  }
  SQLite::Statement probes(database, "SELECT id, name FROM probe");
  while (probes.executeStep()) {
    probes_[probes.getColumn(1).getString()] = probes.getColumn(0).getInt64();
  }
  put_reading_ =
      std::make_unique<SQLite::Statement>(database, "INSERT INTO reading VALUES (?,?,?,?,?,?)");
}

ChamberLog::~ChamberLog() = default;

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
  if (id >= kMostProbes) {
    throw sensors::Refused({"too-many-probes", "this log knows 4095 probes and takes no more", name,
                            file().string(), "begin a new log"});
  }
  note_calibration(store_.database(), id, last_row_, calibration);
  transaction.commit();
  probes_[name] = id;
}

LoggedRound ChamberLog::write(std::span<const Reading> readings, std::span<const Event> events) {
  LoggedRound round;
  const auto newest_before = newest_at_;
  const auto stretch_before = stretch_;
  bool rolled_up = false;
  try {
    Transaction transaction(store_);
    LogRow row = last_row_;
    std::vector<std::pair<std::int64_t, Reading>> rows;
    for (const auto& reading : readings) {
      insert(reading, ++row);
      round.readings.push_back({row, reading});
      rows.emplace_back(probes_.at(reading.probe), reading);
    }
    rolled_up = !rows.empty();
    if (rollups_stale_) rollups_.resume(newest_before);
    rollups_stale_ = false;
    if (rolled_up) rollups_.write(rows, *newest_at_);
    for (const auto& event : events) {
      insert(event, ++row);
      round.events.push_back({row, event});
    }
    transaction.commit();
    last_row_ = row;
  } catch (...) {
    newest_at_ = newest_before;
    stretch_ = stretch_before;
    if (rolled_up) forget_rollups();
    throw;
  }
  return round;
}

void ChamberLog::forget_rollups() {
  try {
    rollups_.resume(newest_at_);
  } catch (
      const SQLite::Exception&) {  // a disk that cannot even be read: the next commit sees to it
    rollups_stale_ = true;
  }
}

Stretch ChamberLog::stretch_for(Instant at, LogRow row) {
  if (stretch_ && stretch_->holds(ms_of(at))) return *stretch_;
  const Stretch next{row, ms_of(at) - kStretchSlackMs};
  SQLite::Statement put(store_.database(), "INSERT INTO stretch VALUES (?,?)");
  put.bind(1, next.first_row);
  put.bind(2, next.begun_at_ms);
  put.exec();
  return next;
}

void ChamberLog::insert(const Reading& reading, LogRow row) {
  stretch_ = stretch_for(reading.at, row);
  auto& put = *put_reading_;
  put.reset();
  put.bind(1, row);
  put.bind(2, ms_of(reading.at) - stretch_->begun_at_ms);
  put.bind(3, probes_.at(reading.probe));
  bind_optional(put, 4, milli(reading.temperature));
  bind_optional(put, 5, milli(reading.humidity));
  put.bind(6, static_cast<int>(reading.quality));
  put.exec();
  put.reset();
  write_beside(store_.database(), reading, row);
  if (!newest_at_ || reading.at > *newest_at_) newest_at_ = reading.at;
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

std::set<Instant> ChamberLog::times(const std::string& probe, Instant from, Instant to) {
  std::set<Instant> found;
  const auto known = probes_.find(probe);
  if (known == probes_.end() || !newest_at_ || from > *newest_at_) return found;
  each_row(store_.database(), from, to, known->second,
           [&](const RawRow& row) { found.insert(row.reading.at); });
  return found;
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
