#include "daemon/poll/round_clock.hpp"

#include <algorithm>
#include <cassert>

namespace takehold::daemon {

RoundClock::RoundClock(std::vector<std::chrono::milliseconds> periods, MonotoneTime start) {
  slots_.reserve(periods.size());
  for (const auto period : periods) {
    assert(period.count() > 0);
    slots_.push_back({period, start});
  }
}

MonotoneTime RoundClock::next_at() const {
  MonotoneTime first = MonotoneTime::max();
  for (const auto& slot : slots_) first = std::min(first, slot.due);
  return first;
}

std::vector<std::size_t> RoundClock::take_due(MonotoneTime now) {
  std::vector<std::size_t> due;
  for (std::size_t i = 0; i < slots_.size(); ++i) {
    auto& slot = slots_[i];
    if (slot.due > now) continue;
    due.push_back(i);
    slot.due += slot.period * ((now - slot.due) / slot.period + 1);
  }
  return due;
}

}  // namespace takehold::daemon
