#include "daemon/log/rollup.hpp"

#include <algorithm>

namespace takehold::daemon {

using sensors::Instant;
using sensors::Quality;
using std::chrono::milliseconds;

Instant begin_of(Instant at, milliseconds length) {
  const auto ms = at.time_since_epoch().count();
  const auto whole = length.count();
  const auto rest = (ms % whole + whole) % whole;
  return Instant(milliseconds(ms - rest));
}

bool is_charted(const sensors::Reading& reading) {
  return reading.quality == Quality::good || reading.quality == Quality::suspect;
}

void Gathered::add_reading(double value) {
  low = count == 0 ? value : std::min(low, value);
  high = count == 0 ? value : std::max(high, value);
  sum += value;
  ++count;
}

void Gathered::add_line(double mean, std::int64_t ms) {
  area += mean * double(ms);
  observed_ms += ms;
}

void Gathered::add(const Gathered& other) {
  if (other.count > 0) {
    low = count == 0 ? other.low : std::min(low, other.low);
    high = count == 0 ? other.high : std::max(high, other.high);
  }
  sum += other.sum;
  count += other.count;
  area += other.area;
  observed_ms += other.observed_ms;
}

std::optional<Bucket::Spread> Gathered::spread() const {
  if (count == 0) return std::nullopt;
  // A reading that stands alone between two gaps has no time of its own.
  const double mean = observed_ms > 0 ? area / double(observed_ms) : sum / double(count);
  return Bucket::Spread{mean, low, high};
}

void RollupBuilder::see(const sensors::Reading& reading, std::vector<Rollup>& done) {
  if (!is_charted(reading) || (last_at_ && reading.at <= *last_at_)) return;
  open(reading.at, done);
  last_at_ = reading.at;
  const auto take = [&](std::optional<Point>& last, double value, Gathered Rollup::*quantity) {
    const Point now{reading.at, value};
    if (last && now.at - last->at <= kLongestLine) line(*last, now, quantity);
    (open_.back().*quantity).add_reading(value);
    last = now;
  };
  if (reading.temperature) {
    take(temperature_, reading.temperature->degc(), &Rollup::temperature);
  }
  if (reading.humidity) take(humidity_, reading.humidity->pct(), &Rollup::humidity);
  while (open_.size() > 1) {  // its last line is drawn
    if (!open_.front().is_empty()) done.push_back(open_.front());
    open_.erase(open_.begin());
  }
}

/// The stretch that holds `at` becomes the last. Those between it and the one before hold no
/// reading.
void RollupBuilder::open(Instant at, std::vector<Rollup>& done) {
  const Instant from = begin_of(at, length_);
  if (!open_.empty() && open_.back().from == from) return;
  if (last_at_ && at - *last_at_ > kLongestLine) finish(done);
  open_.push_back({from, {}, {}});
}

void RollupBuilder::line(const Point& from, const Point& to, Gathered Rollup::*quantity) {
  const double whole = double((to.at - from.at).count());
  for (auto& rollup : open_) {
    const Instant begin = std::max(from.at, rollup.from);
    const Instant end = std::min(to.at, rollup.from + length_);
    if (end <= begin) continue;
    const auto at = [&](Instant t) {
      return from.value + (to.value - from.value) * double((t - from.at).count()) / whole;
    };
    (rollup.*quantity).add_line((at(begin) + at(end)) / 2, (end - begin).count());
  }
}

void RollupBuilder::pass(Instant now, std::vector<Rollup>& done) {
  if (!open_.empty() && now - (open_.back().from + length_) > kLongestLine) finish(done);
}

void RollupBuilder::finish(std::vector<Rollup>& done) {
  for (auto& rollup : open_) {
    if (!rollup.is_empty()) done.push_back(std::move(rollup));
  }
  open_.clear();
}

}  // namespace takehold::daemon
