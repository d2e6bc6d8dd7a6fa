#include "sensors/trace/band.hpp"

#include <algorithm>

namespace takehold::sensors {
namespace {

void include(std::optional<ValueRange>& range, double low, double high) {
  range = range ? ValueRange{std::min(range->low, low), std::max(range->high, high)}
                : ValueRange{low, high};
}

}  // namespace

Side side_of(double value, const ValueRange& allowed) {
  if (value < allowed.low) return Side::below;
  return value > allowed.high ? Side::above : Side::inside;
}

std::optional<ValueRange> band_at(std::span<const BandSpan> bands, Instant at) {
  const auto holds = [at](const BandSpan& band) {
    return band.span.from <= at && at < band.span.to;
  };
  const auto found = std::find_if(bands.begin(), bands.end(), holds);
  if (found == bands.end()) return std::nullopt;
  return found->allowed;
}

std::optional<ValueRange> range_of(std::span<const Bucket> buckets,
                                   std::span<const BandSpan> bands) {
  std::optional<ValueRange> range;
  for (const auto& bucket : buckets) {
    if (bucket.min && bucket.max) include(range, *bucket.min, *bucket.max);
  }
  for (const auto& band : bands) include(range, band.allowed.low, band.allowed.high);
  return range;
}

}  // namespace takehold::sensors
