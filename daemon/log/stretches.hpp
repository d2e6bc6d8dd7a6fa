// Readings by their time. Only for the sources of this folder.
//
// Rows lie in the order of writing; a stretch says from which time a run of them counts. Only the
// stretches that can hold a time are looked through, so that no index on time has to be written
// with every reading.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <cstdint>
#include <functional>
#include <optional>

#include "daemon/log/records.hpp"

namespace takehold::daemon {

/// The most that fits three bytes: about 2 h 20 min.
inline constexpr std::int64_t kLongestStretchMs = 8388607;
/// A new stretch begins this long before its first reading, so that those a little late fit too.
inline constexpr std::int64_t kStretchSlackMs = 10 * 60 * 1000;

struct Stretch {
  LogRow first_row = 0;
  std::int64_t begun_at_ms = 0;

  bool holds(std::int64_t at_ms) const {
    return at_ms >= begun_at_ms && at_ms - begun_at_ms <= kLongestStretchMs;
  }
};

std::optional<Stretch> last_stretch(SQLite::Database& database);

/// A reading as it lies there: its probe is a number, the reading's own name is empty.
struct RawRow {
  LogRow row;
  std::int64_t probe;
  sensors::Reading reading;
};

/// Every reading of [from, to), in order of time, then of row; with `probe`, its readings only. At
/// most one stretch is in memory.
void each_row(SQLite::Database& database, sensors::Instant from, sensors::Instant to,
              std::optional<std::int64_t> probe, const std::function<void(const RawRow&)>& visit);

}  // namespace takehold::daemon
