#include "client/command/past_window.hpp"

#include <algorithm>

namespace takehold::client {

using daemon::ReadingsMessage;
using sensors::Instant;

PastWindow past_window(std::chrono::milliseconds span, int columns, Instant now) {
  const auto step = span / columns;
  const auto over = now.time_since_epoch() / step;
  return {Instant(step * (over + 1)), step, columns};
}

ReadingsWanted missing_of(const PastWindow& window, const std::optional<ReadingsMessage>& past) {
  const ReadingsWanted whole{{}, window.from(), window.to, window.columns};
  if (!past || past->step != window.step) return whole;
  const auto moved = window.to - past->to;
  const auto columns = moved / window.step + 1;
  const bool on_grid = moved % window.step == std::chrono::milliseconds(0);
  if (moved.count() < 0 || !on_grid || columns >= window.columns) return whole;
  return {{}, past->to - window.step, window.to, int(columns)};
}

std::optional<ReadingsMessage> moved_on(const PastWindow& window,
                                        const std::optional<ReadingsMessage>& past,
                                        ReadingsMessage newer) {
  if (newer.from <= window.from()) return newer;
  if (!past || past->probes.size() != newer.probes.size()) return std::nullopt;
  for (std::size_t i = 0; i < newer.probes.size(); ++i) {
    const auto& before = past->probes[i];
    if (before.probe != newer.probes[i].probe) return std::nullopt;
    std::vector<daemon::ReadingBucket> all;
    for (const auto& bucket : before.buckets) {
      if (bucket.at >= window.from() && bucket.at < newer.from) all.push_back(bucket);
    }
    auto& fresh = newer.probes[i].buckets;
    fresh.insert(fresh.begin(), all.begin(), all.end());
  }
  newer.from = window.from();
  return newer;
}

}  // namespace takehold::client
