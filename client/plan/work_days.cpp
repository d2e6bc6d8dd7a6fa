#include "client/plan/work_days.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

Weekday weekday_of(Day day) {
  // Weekday counts from Monday, as ISO does, whose Monday is 1.
  return static_cast<Weekday>(std::chrono::weekday(day).iso_encoding() - 1);
}

std::optional<Day> walk(const Season& season, Day day, int steps, int direction) {
  for (int step = 0; step <= steps; ++step) {
    const Day candidate = day + std::chrono::days(direction * step);
    if (is_work_day(season, candidate)) return candidate;
  }
  return std::nullopt;
}

}  // namespace

bool is_work_day(const Season& season, Day day) {
  const auto holds = [&](const Away& away) { return away.from <= day && day <= away.to; };
  if (std::any_of(season.away.begin(), season.away.end(), holds)) return false;
  const auto& free = season.free_days;
  return free.empty() || std::find(free.begin(), free.end(), weekday_of(day)) != free.end();
}

std::optional<Day> work_day_before(const Season& season, Day day, std::chrono::days reach) {
  return walk(season, day, static_cast<int>(reach.count()), -1);
}

std::optional<Day> work_day_after(const Season& season, Day day, std::chrono::days reach) {
  return walk(season, day, static_cast<int>(reach.count()), 1);
}

}  // namespace takehold::client
