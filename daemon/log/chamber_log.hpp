// The chamber log: every reading, event, warning and batch, on disk.
//
// The one connection that writes and checkpoints the file. What a call wrote is on the disk when it
// returns (if synced); it throws (SQLite::Exception, Refused) and has written nothing when the disk
// fails. One owner, one thread.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "daemon/log/records.hpp"
#include "daemon/store/store.hpp"
#include "sensors/check/calibration.hpp"

namespace takehold::daemon {

/// The application id of a chamber log: "TkCl".
inline constexpr std::int32_t kChamberLogId = 0x546b436c;

/// The steps of its schema, embedded.
std::vector<Migration> chamber_log_migrations();

class ChamberLog {
 public:
  /// Opens or makes the file. Throws what Store::open throws. `synced` false: a commit does not
  /// wait for the disk; only for a log that can be made again.
  explicit ChamberLog(const std::filesystem::path& file, bool synced = true);

  /// Makes `name` known; readings of unknown probes are a mistake of ours. Those from now on go
  /// through `calibration`, which is kept, so that what the probe itself told can be had back.
  void add_probe(const std::string& name, const std::string& place,
                 const sensors::Calibration& calibration = {});

  /// One poll round, or one push: readings, then events with their warnings, in one commit. A
  /// reading older than the newest of the log is kept and marked late.
  LoggedRound write(std::span<const sensors::Reading> readings, std::span<const Event> events);
  /// A warning answered (acknowledged, shelved).
  void save(const Warning& warning);
  void save(const OccupantRecord& occupant);

  /// Whether a reading of this probe and very moment is in the log already.
  bool has_reading(const std::string& probe, sensors::Instant at);
  /// Of the newest reading in time order; none: the log is empty.
  std::optional<sensors::Instant> newest_at() const { return newest_at_; }
  LogRow last_row() const { return last_row_; }
  std::int64_t last_warning_number();
  /// Standing, or cleared and not yet acknowledged; the newest `limit`, oldest first.
  std::vector<Warning> open_warnings(int limit);
  std::vector<OccupantRecord> occupants();
  std::optional<OccupantRecord> occupant(const std::string& label);

  const std::filesystem::path& file() const { return store_.path(); }
  int schema_version() const { return store_.schema_version(); }

 private:
  LogRow insert(const sensors::Reading& reading, LogRow row);
  void insert(const Event& event, LogRow row);

  Store store_;
  std::map<std::string, std::int64_t> probes_;
  LogRow last_row_ = 0;
  std::optional<sensors::Instant> newest_at_;
};

}  // namespace takehold::daemon
