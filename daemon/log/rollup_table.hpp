// Rollups on disk, and charts out of them. Only for the sources of this folder.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <array>
#include <functional>
#include <map>

#include "daemon/log/rollup.hpp"

namespace takehold::daemon {

struct RollupLevel {
  std::chrono::milliseconds length;
  const char* table;
};
inline constexpr std::array<RollupLevel, 3> kRollupLevels = {
    {{std::chrono::minutes(1), "rollup_minute"},
     {std::chrono::minutes(10), "rollup_ten_minutes"},
     {std::chrono::hours(1), "rollup_hour"}}};

/// Probes are numbered below this.
inline constexpr std::int64_t kMostProbes = 4096;

std::int64_t rollup_key(sensors::Instant from, std::chrono::milliseconds length,
                        std::int64_t probe);

/// Writes over what was there.
void write_rollup(SQLite::Database& database, const RollupLevel& level, std::int64_t probe,
                  const Rollup& rollup);

/// Those of [from, to), both at a begin, of all probes in order of time.
void each_rollup(SQLite::Database& database, const RollupLevel& level, sensors::Instant from,
                 sensors::Instant to,
                 const std::function<void(std::int64_t probe, const Rollup&)>& visit);

/// Builders of all levels for all probes, as they go on with what comes next.
class RollupWriter {
 public:
  /// Takes up what the log holds.
  void resume(SQLite::Database& database, std::optional<sensors::Instant> newest);
  /// After the rows of this commit were written, inside the same transaction.
  void write(SQLite::Database& database,
             const std::vector<std::pair<std::int64_t, sensors::Reading>>& rows,
             sensors::Instant newest);

 private:
  using Builders = std::array<RollupBuilder, kRollupLevels.size()>;
  struct ProbeState {
    Builders builders;
    std::optional<sensors::Instant> last_at;
  };
  ProbeState& state_of(std::int64_t probe);
  void rebuild(SQLite::Database& database, std::int64_t probe, sensors::Instant hour,
               sensors::Instant newest);

  std::map<std::int64_t, ProbeState> probes_;
};

}  // namespace takehold::daemon
