// One quantity over time: where it was not observed, and the same in fewer points.
//
// Values are bare numbers here because a trace may be of any one quantity; its unit is the
// caller's. Between two samples that are not too far apart the quantity is taken as a straight
// line; across a gap nothing is assumed. All weights are time, never the number of samples.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <vector>

#include "sensors/quantity/calendar.hpp"

namespace takehold::sensors {

/// One look; no value: the probe was asked and gave nothing, which breaks the line.
struct Sample {
  Instant at;
  std::optional<double> value;
};

/// Half open: `from` belongs to it, `to` does not.
struct TimeSpan {
  Instant from;
  Instant to;
  friend bool operator==(const TimeSpan&, const TimeSpan&) = default;
};

/// `samples` in order of time. The parts of `within` that no line covers: before the first sample
/// and after the last too, and between two samples further apart than `longest`.
std::vector<TimeSpan> gaps(std::span<const Sample> samples, TimeSpan within,
                           std::chrono::milliseconds longest);

/// What happened in one stretch of time; all three are missing where nothing was observed.
struct Bucket {
  TimeSpan span;
  std::optional<double> mean;  ///< over the observed time
  std::optional<double> min;
  std::optional<double> max;
  std::chrono::milliseconds observed{0};
};

/// `within` cut into `buckets` (at least 1) equal stretches. Give the nearest sample on either side
/// of `within` too, so that its ends are drawn. A lone sample between two gaps shows with no
/// observed time. An empty `within` gives no buckets.
std::vector<Bucket> decimate(std::span<const Sample> samples, TimeSpan within, int buckets,
                             std::chrono::milliseconds longest);

}  // namespace takehold::sensors
