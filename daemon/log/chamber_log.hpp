// The chamber log: every reading, event, warning and batch, on disk.
//
// The one connection that writes and checkpoints the file. What a call wrote is on the disk when it
// returns (if synced); it throws (SQLite::Exception, Refused) and has written nothing when the disk
// fails. One owner, one thread.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "daemon/log/records.hpp"
#include "daemon/log/rollup_writer.hpp"
#include "daemon/log/stretches.hpp"
#include "daemon/store/store.hpp"
#include "sensors/check/calibration.hpp"

namespace takehold::daemon {

/// The application id of a chamber log: "TkCl".
inline constexpr std::int32_t kChamberLogId = 0x546b436c;

/// A clock that shows an earlier time was never set: there was no such program yet.
inline constexpr sensors::Instant kFirstClock =
    std::chrono::sys_days(std::chrono::year(2026) / std::chrono::January / 1);

/// The steps of its schema, embedded.
std::vector<Migration> chamber_log_migrations();

class ChamberLog {
 public:
  /// Opens or makes the file. Throws what Store::open throws. `synced` false: a commit does not
  /// wait for the disk; only for a log that can be made again.
  explicit ChamberLog(const std::filesystem::path& file, bool synced = true);
  ~ChamberLog();

  /// Makes `name` known; readings of unknown probes are a mistake of ours. Those from now on go
  /// through `calibration`, which is kept, so that what the probe itself told can be had back.
  void add_probe(const std::string& name, const std::string& place,
                 const sensors::Calibration& calibration = {});

  /// One poll round, or one push: readings, then events with their warnings, in one commit, and the
  /// rollups that they end. Readings may come with any time.
  LoggedRound write(std::span<const sensors::Reading> readings, std::span<const Event> events);
  /// A warning answered (acknowledged, shelved).
  void save(const Warning& warning);
  void save(const OccupantRecord& occupant);

  /// The times of [from, to) that there is a reading of this probe of.
  std::set<sensors::Instant> times(const std::string& probe, sensors::Instant from,
                                   sensors::Instant to);
  /// Of the newest reading since the clock was last set; none: there is none.
  std::optional<sensors::Instant> newest_at() const { return newest_at_; }

  /// Nobody watched from `from` to `to`.
  void note_gap(sensors::Instant from, sensors::Instant to, Gap::Why why);
  /// The clock was set by `by` and now shows `at`: what comes next need not be newer. Readings of
  /// this opening that bear a time before this program was (a board without a battery for its clock
  /// wakes in 1970) are dated anew.
  void note_clock_step(sensors::Instant at, std::chrono::milliseconds by);

  /// Deletes what is older than `before`, at most `most` readings of it, so that nobody waits long;
  /// hour rollups stay. True: there is more.
  bool prune(sensors::Instant before, int most = 2000);
  LogRow last_row() const { return last_row_; }
  std::int64_t last_warning_number();
  /// Standing, or cleared and not yet acknowledged; the newest `limit`, oldest first.
  std::vector<Warning> open_warnings(int limit);
  std::vector<OccupantRecord> occupants();
  std::optional<OccupantRecord> occupant(const std::string& label);

  const std::filesystem::path& file() const { return store_.path(); }
  int schema_version() const { return store_.schema_version(); }

 private:
  void insert(const sensors::Reading& reading, LogRow row);
  void insert(const Event& event, LogRow row);

  /// The stretch that a reading of `at` goes into when it gets `row`.
  Stretch stretch_for(sensors::Instant at, LogRow row);
  /// Dates what was written since the opening before kFirstClock by `by` later.
  void redate(std::chrono::milliseconds by);
  /// After a migration: rollups of what older versions wrote.
  void make_rollups();
  /// After a commit that failed: what the log holds counts, not what was gathered since.
  void forget_rollups();

  Store store_;
  std::map<std::string, std::int64_t> probes_;
  LogRow last_row_ = 0;
  LogRow row_at_opening_ = 0;
  std::optional<sensors::Instant> newest_at_;
  std::optional<Stretch> stretch_;
  RollupWriter rollups_;
  bool rollups_stale_ = false;
  std::unique_ptr<SQLite::Statement> put_reading_;  ///< made once: it runs for every reading
};

}  // namespace takehold::daemon
