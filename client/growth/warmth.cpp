#include "client/growth/warmth.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "client/growth/emergence.hpp"

namespace takehold::client {
namespace {

constexpr double kHoursADay = 24.0;

// The first place at which the rising curve `sum`, above `level` at its end and below it at its
// start, reaches it. Warmth adds up nearly evenly, so a straight line says where to begin.
std::size_t place_of(const std::vector<double>& sum, double level) {
  const std::size_t last = sum.size() - 1;
  const auto guess = static_cast<std::size_t>(level / sum.back() * static_cast<double>(last));
  std::size_t high = std::clamp<std::size_t>(guess, 1, last);
  std::size_t step = 1;
  for (; sum[high] < level; step *= 2) high = std::min(last, high + step);
  std::size_t low = high - 1;
  for (step = 1; low > 0 && sum[low] >= level; step *= 2) low -= std::min(low, step);
  const auto from = sum.begin() + static_cast<std::ptrdiff_t>(low);
  const auto to = sum.begin() + static_cast<std::ptrdiff_t>(high);
  return static_cast<std::size_t>(std::lower_bound(from, to, level) - sum.begin());
}

// The age at which the rising curve `sum`, sampled hourly, first reaches `level`.
std::optional<Age> first_reach(const std::vector<double>& sum, double level) {
  if (level <= sum.front()) return Age(0);
  if (sum.back() < level) return std::nullopt;
  const std::size_t above = place_of(sum, level);
  const double left = sum[above - 1];
  const auto hour = static_cast<double>(above);
  return Age((hour - 1 + (level - left) / (sum[above] - left)) / kHoursADay);
}

double value_at(const std::vector<double>& sum, Age age) {
  const double last = static_cast<double>(sum.size() - 1);
  const double hours = std::clamp(age.count() * kHoursADay, 0.0, last);
  const auto left = static_cast<std::size_t>(hours);
  if (left + 1 >= sum.size()) return sum.back();
  return sum[left] + (hours - static_cast<double>(left)) * (sum[left + 1] - sum[left]);
}

}  // namespace

sensors::Celsius BenchCycle::mean_of_hour(int hour) const {
  const double half = std::clamp(day_hours, 0.0, kHoursADay) / 2;
  const double begins = 12 - half;
  const double ends = 12 + half;
  const double lit =
      std::max(0.0, std::min<double>(hour + 1, ends) - std::max<double>(hour, begins));
  return night + lit * (day - night);
}

std::vector<sensors::Celsius> hourly_from_noon(const BenchCycle& bench, std::chrono::days length) {
  std::vector<sensors::Celsius> hourly;
  for (int hour = 0; hour < 24 * length.count(); ++hour) {
    hourly.push_back(bench.mean_of_hour((12 + hour) % 24));
  }
  return hourly;
}

sensors::ThermalTime growth_heat_per_day(sensors::Celsius air) {
  return sensors::ThermalTime::degc_days(std::clamp(air.degc() - 10.0, 0.0, 20.0));
}

Course::Course(std::span<const sensors::Celsius> hourly) : progress_{0.0}, heat_{0.0} {
  for (const sensors::Celsius air : hourly) {
    progress_.push_back(progress_.back() + emergence_rate_per_day(air) / kHoursADay);
    heat_.push_back(heat_.back() + growth_heat_per_day(air).degc_days() / kHoursADay);
  }
}

std::optional<Age> Course::age_at_progress(double progress) const {
  return first_reach(progress_, progress);
}

double Course::progress_at(Age age) const {
  return value_at(progress_, age);
}

sensors::ThermalTime Course::heat_between(Age from, Age to) const {
  return sensors::ThermalTime::degc_days(
      std::max(0.0, value_at(heat_, to) - value_at(heat_, from)));
}

std::optional<Age> Course::age_at_heat(Age from, sensors::ThermalTime heat) const {
  if (heat.degc_days() <= 0) return from;
  return first_reach(heat_, value_at(heat_, from) + heat.degc_days());
}

}  // namespace takehold::client
