#include "client/forecast/best_day.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace takehold::client {

std::optional<int> best_day(std::span<const std::uint16_t> pairs,
                            const std::vector<bool>& allowed) {
  std::vector<int> days;
  std::uint16_t most = 1;
  for (std::size_t day = 0; day < pairs.size(); ++day) {
    if (!allowed[day] || pairs[day] < most) continue;
    if (pairs[day] > most) days.clear();
    most = pairs[day];
    days.push_back(static_cast<int>(day));
  }
  if (days.empty()) return std::nullopt;
  return days[(days.size() - 1) / 2];
}

namespace {

constexpr double kRounding = 1e-12;
constexpr double kHeld = 0.8;
// How much two tails of unlike chance count against an interval, beside how far it is from kHeld.
constexpr double kLopsided = 0.02;

}  // namespace

DayRange day_range(std::span<const double> chances) {
  const double all = std::accumulate(chances.begin(), chances.end(), 0.0);
  std::vector<double> up_to{0};
  for (const double chance : chances) up_to.push_back(up_to.back() + chance / all);
  std::size_t middle = 0;
  while (up_to[middle + 1] < 0.5) ++middle;
  const int p50 = static_cast<int>(middle);
  DayRange best{p50, p50, p50};
  double least = 2;
  for (std::size_t from = middle + 1; from-- > 0;) {  // of equals the narrowest
    for (std::size_t to = middle; to < chances.size(); ++to) {
      const double before = up_to[from], after = 1 - up_to[to + 1];
      const double off =
          std::abs(1 - before - after - kHeld) + kLopsided * std::abs(before - after);
      if (off >= least - kRounding) continue;
      least = off;
      best = {static_cast<int>(from), p50, static_cast<int>(to)};
    }
  }
  return best;
}

}  // namespace takehold::client
