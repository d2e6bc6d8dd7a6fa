// What was allowed over time, drawn and judged beside what was.
#pragma once

#include <optional>
#include <span>

#include "sensors/trace/axis.hpp"
#include "sensors/trace/trace.hpp"

namespace takehold::sensors {

/// The allowed values during `span`, both limits allowed. A ramp is told as several short spans.
struct BandSpan {
  TimeSpan span;
  ValueRange allowed;
};

enum class Side { below, inside, above };
Side side_of(double value, const ValueRange& allowed);

/// The band in force at `at`; `bands` in order of time. None: nothing was asked for.
std::optional<ValueRange> band_at(std::span<const BandSpan> bands, Instant at);

/// What an axis must show: all buckets' extremes and all bands. None if there is nothing at all.
std::optional<ValueRange> range_of(std::span<const Bucket> buckets,
                                   std::span<const BandSpan> bands);

}  // namespace takehold::sensors
