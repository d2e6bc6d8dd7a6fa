#include "daemon/log/rollup.hpp"

#include <algorithm>

#include "daemon/healing/band.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Quality;
using sensors::Told;
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

std::optional<double> value_of(const sensors::Reading& reading, Told quantity) {
  const auto number = [](const auto& value) {
    return value ? std::optional(number_of(*value)) : std::nullopt;
  };
  switch (quantity) {
    case Told::temperature:
      return number(reading.temperature);
    case Told::humidity:
      return number(reading.humidity);
    case Told::leaf_temperature:
      return number(reading.extras.leaf_temperature);
    case Told::co2:
      return number(reading.extras.co2);
    case Told::light:
      return number(reading.extras.light);
  }
  return std::nullopt;
}

bool Rollup::is_empty() const {
  return std::none_of(sensors::kAllTold.begin(), sensors::kAllTold.end(),
                      [&](Told told) { return sensors::place_of(*this, told).count > 0; });
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
  for (const auto quantity : sensors::kAllTold) {
    const auto value = value_of(reading, quantity);
    if (!value) continue;
    auto& last = last_[std::size_t(quantity)];
    const Point now{reading.at, *value};
    if (last && now.at - last->at <= kLongestLine) line(*last, now, quantity);
    sensors::place_of(open_.back(), quantity).add_reading(*value);
    last = now;
  }
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
  open_.push_back({from});
}

void RollupBuilder::line(const Point& from, const Point& to, Told quantity) {
  const double whole = double((to.at - from.at).count());
  for (auto& rollup : open_) {
    const Instant begin = std::max(from.at, rollup.from);
    const Instant end = std::min(to.at, rollup.from + length_);
    if (end <= begin) continue;
    const auto at = [&](Instant t) {
      return from.value + (to.value - from.value) * double((t - from.at).count()) / whole;
    };
    sensors::place_of(rollup, quantity).add_line((at(begin) + at(end)) / 2, (end - begin).count());
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
