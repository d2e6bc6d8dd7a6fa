#include "sensors/check/value_history.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::sensors {
namespace {

constexpr auto kKept = std::chrono::minutes(40);
constexpr auto kSpacing = std::chrono::seconds(5);
constexpr std::size_t kMostLeaps = 400;

}  // namespace

void ValueHistory::add(Instant at, double value) {
  note_change(at, value);
  newest_ = value;
  newest_at_ = at;
  // The newest sample is replaced until it is old enough to have a neighbour.
  const bool crowded = samples_.size() > 1 && at - samples_[samples_.size() - 2].at < kSpacing;
  if (crowded) samples_.pop_back();
  samples_.push_back({at, value});
  while (samples_.front().at < at - kKept) samples_.pop_front();
  while (!leaps_.empty() && leaps_.front().at < at - kKept) leaps_.pop_front();
}

void ValueHistory::note_change(Instant at, double value) {
  if (!newest_) {
    unchanged_since_ = at;
    unchanged_readings_ = 1;
    return;
  }
  const double change = value - *newest_;
  if (change == 0.0) {
    ++unchanged_readings_;
    return;
  }
  unchanged_since_ = at;
  unchanged_readings_ = 1;
  finest_step_ = std::min(finest_step_.value_or(std::abs(change)), std::abs(change));
  if (std::abs(change) < leap_ || at - newest_at_ > quick_) return;
  leaps_.push_back({at, change});
  if (leaps_.size() > kMostLeaps) leaps_.pop_front();
}

std::optional<ValueHistory::Spread> ValueHistory::spread(Instant from, Instant to) const {
  std::optional<Spread> spread;
  for (auto sample = samples_.rbegin(); sample != samples_.rend() && sample->at >= from; ++sample) {
    if (sample->at > to) continue;
    if (!spread) spread = Spread{sample->value, sample->value};
    spread->low = std::min(spread->low, sample->value);
    spread->high = std::max(spread->high, sample->value);
  }
  return spread;
}

}  // namespace takehold::sensors
