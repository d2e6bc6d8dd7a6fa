#include "sensors/trace/axis.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace takehold::sensors {
namespace {

using std::chrono::minutes;

// A mark counts as inside when it is less than this share of a step outside: 0.3 is not 3 · 0.1.
constexpr double kEdge = 1e-9;

double pleasant_step(double least) {
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double times : {1.0, 2.0, 5.0}) {
    if (times * power >= least * (1.0 - kEdge)) return times * power;
  }
  return 10.0 * power;
}

std::vector<Instant> marks_of_day(Day day, minutes step, TimeSpan span, const TimeZone& zone) {
  std::vector<Instant> marks;
  for (minutes time{0}; time < std::chrono::hours(24); time += step) {
    const Instant at = zone.at(day, time);
    const bool repeats = !marks.empty() && at <= marks.back();  // an hour skipped in spring
    if (at >= span.from && at < span.to && !repeats) marks.push_back(at);
  }
  return marks;
}

std::vector<Instant> marks_within_days(TimeSpan span, minutes step, const TimeZone& zone) {
  std::vector<Instant> marks;
  for (Day day = zone.day_of(span.from); day <= zone.day_of(span.to); day += Days(1)) {
    for (const Instant at : marks_of_day(day, step, span, zone)) marks.push_back(at);
  }
  return marks;
}

std::vector<Instant> marks_of_days(TimeSpan span, int step_days, const TimeZone& zone) {
  std::vector<Instant> marks;
  for (Day day = zone.day_of(span.from); day <= zone.day_of(span.to); day += Days(1)) {
    const Instant at = zone.at(day, minutes(0));
    const bool whole = day.time_since_epoch().count() % step_days == 0;
    if (whole && at >= span.from && at < span.to) marks.push_back(at);
  }
  return marks;
}

}  // namespace

ValueTicks value_ticks(ValueRange range, int most) {
  assert(most >= 2 && range.low <= range.high);
  if (range.low == range.high) range = {range.low - 1.0, range.high + 1.0};
  ValueTicks ticks{pleasant_step((range.high - range.low) / most), 0, {}};
  for (;;) {
    const double first = std::ceil(range.low / ticks.step - kEdge);
    const double last = std::floor(range.high / ticks.step + kEdge);
    if (last - first + 1 > most) {
      ticks.step = pleasant_step(ticks.step * 1.5);
      continue;
    }
    for (double i = first; i <= last; ++i) ticks.at.push_back(i * ticks.step);
    break;
  }
  ticks.decimals = std::max(0, -static_cast<int>(std::floor(std::log10(ticks.step) + kEdge)));
  return ticks;
}

TimeTicks time_ticks(TimeSpan span, int most, const TimeZone& zone) {
  assert(most >= 1);
  for (const int step : {1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720}) {
    if ((span.to - span.from) / minutes(step) > most) continue;  // not worth listing
    auto marks = marks_within_days(span, minutes(step), zone);
    if (int(marks.size()) <= most) return {minutes(step), std::move(marks)};
  }
  for (int days = 1;; days *= 2) {
    auto marks = marks_of_days(span, days, zone);
    if (int(marks.size()) <= most) return {std::chrono::hours(24 * days), std::move(marks)};
  }
}

}  // namespace takehold::sensors
