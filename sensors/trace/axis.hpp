// Where a chart's axes are marked.
#pragma once

#include <chrono>
#include <vector>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/time_zone.hpp"
#include "sensors/trace/trace.hpp"

namespace takehold::sensors {

/// From the lowest to the highest value, in the quantity's own unit.
struct ValueRange {
  double low;
  double high;
};

/// Marks at multiples of `step`, which is 1, 2 or 5 times a power of ten.
struct ValueTicks {
  double step;
  int decimals;  ///< that every mark needs
  std::vector<double> at;
};

/// At most `most` (at least 2) marks inside `range`, both ends included. A range of no width is
/// first widened by 1 on either side.
ValueTicks value_ticks(ValueRange range, int most);

/// Marks on whole steps of the wall clock in `zone`: 1 min to 12 h, then days. At most `most`.
struct TimeTicks {
  std::chrono::minutes step;
  std::vector<Instant> at;
};
TimeTicks time_ticks(TimeSpan span, int most, const TimeZone& zone);

}  // namespace takehold::sensors
