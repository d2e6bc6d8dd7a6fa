// Keeps the rollups on disk in step with the readings. Only for the sources of this folder.
#pragma once

#include "daemon/log/rollup_table.hpp"

namespace takehold::daemon {

/// Builders of all levels for all probes, as they go on with what comes next.
class RollupWriter {
 public:
  explicit RollupWriter(SQLite::Database& database) : database_(database), tables_(database) {}

  /// Takes up what the log holds; with none, nothing.
  void resume(std::optional<sensors::Instant> newest);
  /// After the rows of this commit were written, inside the same transaction.
  void write(const std::vector<std::pair<std::int64_t, sensors::Reading>>& rows,
             sensors::Instant newest);
  /// Makes those from the hour of `from` on out of the readings, inside a transaction, and goes on
  /// from there.
  void make_anew(sensors::Instant from, sensors::Instant newest);
  /// Forgets those that begin in [from, to).
  void erase(sensors::Instant from, sensors::Instant to) { tables_.erase(from, to); }

 private:
  using Builders = std::array<RollupBuilder, kRollupLevels.size()>;
  struct ProbeState {
    Builders builders;
    std::optional<sensors::Instant> last_at;
  };
  ProbeState& state_of(std::int64_t probe);
  /// Feeds the probe's builders, or all probes', with what lies on disk; writes what begins in
  /// [from, to).
  void feed(std::optional<std::int64_t> probe, sensors::Instant first, sensors::Instant past,
            sensors::Instant from, sensors::Instant to);
  void rebuild(std::int64_t probe, sensors::Instant hour, sensors::Instant newest);
  void write(std::size_t level, std::int64_t probe, std::vector<Rollup>& done,
             sensors::Instant from, sensors::Instant to);
  void write(std::size_t level, std::int64_t probe, std::vector<Rollup>& done);

  SQLite::Database& database_;
  RollupTables tables_;
  std::map<std::int64_t, ProbeState> probes_;
};

}  // namespace takehold::daemon
