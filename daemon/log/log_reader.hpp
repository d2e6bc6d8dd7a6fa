// Reading the history back. Kept narrow, so that it may one day be answered from elsewhere than a
// file of this machine.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "daemon/log/records.hpp"

namespace takehold::daemon {

struct BucketQuery {
  std::vector<std::string> probes;
  sensors::Instant from;  ///< included
  sensors::Instant to;    ///< not included; after `from`
  int points = 500;       ///< buckets, 1..2000
};

/// What came after a row of the live stream, in order of rows.
struct LoggedSince {
  std::vector<LoggedReading> readings;
  std::vector<LoggedEvent> events;
};

class LogReader {
 public:
  virtual ~LogReader() = default;
  /// For each probe asked for, in that order: good and suspect readings, gathered in `points` equal
  /// buckets; those without one are gaps. Long spans are answered from rollups, which count where
  /// their middle lies.
  virtual std::vector<std::vector<Bucket>> buckets(const BucketQuery& query) = 0;
  /// Oldest first, for each reading of a probe in [from, to).
  virtual std::vector<LoggedReading> readings(const std::string& probe, sensors::Instant from,
                                              sensors::Instant to) = 0;
  /// Every reading of [from, to), of all probes, in order of time; nothing is kept in memory.
  virtual void each_reading(sensors::Instant from, sensors::Instant to,
                            const std::function<void(const sensors::Reading&)>& visit) = 0;
  /// The newest `limit` warnings, newest first.
  virtual std::vector<Warning> warnings(int limit) = 0;
  virtual std::optional<Warning> warning(std::int64_t number) = 0;
  /// The next rows after `row`, at most `limit` of each kind, none passed over.
  virtual LoggedSince since(LogRow row, int limit) = 0;
};

/// Copies what is committed in the log `file` to `to`, while its writer goes on; see copy_database.
void back_up_log(const std::filesystem::path& file, const std::filesystem::path& to);

/// What SQLite finds wrong in the log; "ok": nothing.
std::string check_log(const std::filesystem::path& file);

/// A second, read-only connection to the file of a ChamberLog.
std::unique_ptr<LogReader> open_log_reader(const std::filesystem::path& file);

}  // namespace takehold::daemon
