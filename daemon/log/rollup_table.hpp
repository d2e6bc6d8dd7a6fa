// Rollups on disk. Only for the sources of this folder.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <array>
#include <functional>
#include <map>

#include "daemon/log/rollup.hpp"

namespace takehold::daemon {

struct RollupLevel {
  std::chrono::milliseconds length;
  const char* table;         ///< of temperature and humidity
  const char* beside_table;  ///< of what few probes tell beside them, a row a quantity
};
inline constexpr std::array<RollupLevel, 3> kRollupLevels = {
    {{std::chrono::minutes(1), "rollup_minute", "rollup_beside_minute"},
     {std::chrono::minutes(10), "rollup_ten_minutes", "rollup_beside_ten_minutes"},
     {std::chrono::hours(1), "rollup_hour", "rollup_beside_hour"}}};

/// Probes are numbered below this.
inline constexpr std::int64_t kMostProbes = 4096;
/// Kinds of `beside`.
inline constexpr std::int64_t kMostKinds = 16;

std::int64_t rollup_key(sensors::Instant from, std::chrono::milliseconds length,
                        std::int64_t probe);

/// Writes rollups; its statements are made once.
class RollupTables {
 public:
  explicit RollupTables(SQLite::Database& database);

  /// Over what was there.
  void write(std::size_t level, std::int64_t probe, const Rollup& rollup);
  /// Those that begin in [from, to).
  void erase(sensors::Instant from, sensors::Instant to);

 private:
  SQLite::Database& database_;
  std::map<std::string, SQLite::Statement> puts_;  ///< by table
};

/// Those of [from, to), both at a begin, of all probes in order of time; what stands beside the air
/// comes by itself, after.
void each_rollup(SQLite::Database& database, const RollupLevel& level, sensors::Instant from,
                 sensors::Instant to,
                 const std::function<void(std::int64_t probe, const Rollup&)>& visit);

}  // namespace takehold::daemon
