// All that is remembered of one probe in order to judge it.
#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "sensors/check/value_history.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::sensors {

struct CheckedProbe {
  std::string name;
  std::string place = "chamber";  ///< probes of one place are held against each other
  std::chrono::milliseconds every{10000};
};

/// Fed with each reading of the probe, already judged by itself (judge.hpp), in order of time.
class ProbeRecord {
 public:
  explicit ProbeRecord(CheckedProbe probe);

  void add(const Reading& reading);

  const CheckedProbe& probe() const { return probe_; }
  const ValueHistory& temperature() const { return temperature_; }
  const ValueHistory& humidity() const { return humidity_; }
  /// Of the newest reading with a possible value.
  std::optional<Instant> newest_at() const { return newest_at_; }

  /// Impossible values, and not just once: two in a row, or three of the last ten.
  bool is_out_of_range() const;
  /// Six possible readings in a row.
  bool is_in_range_again() const { return (last_bad_ & 0x3f) == 0; }

  /// Since when it has said 100 % without a break; none: it does not.
  std::optional<Instant> pinned_since() const { return pinned_since_; }
  /// The longest it said so before, and came down by itself.
  std::chrono::milliseconds longest_pinned() const { return longest_pinned_; }
  /// Readings below 100 % since it last said so.
  int readings_below_100() const { return below_100_; }

  /// Since when nothing it tells has changed. A humidity that stands at 100 % is left out: nothing
  /// can be above.
  Instant unchanged_since() const;
  int unchanged_readings() const;
  /// The longest time that nothing changed, before the present one.
  std::chrono::milliseconds longest_unchanged() const { return longest_unchanged_; }
  /// Readings that brought a change, since the record began.
  long changes() const { return changes_; }

 private:
  void note_pin(const Reading& reading);

  CheckedProbe probe_;
  ValueHistory temperature_;
  ValueHistory humidity_;
  std::optional<Instant> newest_at_;
  unsigned last_bad_ = 0;  ///< one bit a reading, the newest lowest; 1: impossible
  std::optional<Instant> pinned_since_;
  std::chrono::milliseconds longest_pinned_{0};
  int below_100_ = 0;
  std::chrono::milliseconds longest_unchanged_{0};
  long changes_ = 0;
};

}  // namespace takehold::sensors
