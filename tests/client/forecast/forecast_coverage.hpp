// How often the forecast's days hold the day that really was the best.
#pragma once

#include <optional>

#include "client/forecast/forecast.hpp"
#include "tests/client/forecast/season_world.hpp"

namespace takehold::client {

struct ForecastCoverage {
  int seasons = 0;      ///< with a best day
  int held = 0;         ///< within p10..p90
  double expected = 0;  ///< the chances that the forecasts themselves gave those days
  int before = 0, after = 0;
  double expected_before = 0, expected_after = 0;  ///< seasons, by the forecasts' own chances
  double width_days = 0;

  double share() const { return static_cast<double>(held) / seasons; }
};

/// The best day by its definition, written anew: in the middle of those with the most pairs.
inline std::optional<int> true_best(const std::vector<int>& pairs) {
  const int most = *std::max_element(pairs.begin(), pairs.end());
  if (most == 0) return std::nullopt;
  std::vector<int> days;
  for (int day = 0; day < static_cast<int>(pairs.size()); ++day) {
    if (pairs[static_cast<std::size_t>(day)] == most) days.push_back(day);
  }
  return days[(days.size() - 1) / 2];
}

inline ForecastCoverage cover_forecasts(std::uint64_t seed, int seasons, int simulated) {
  SeasonWorld world(seed);
  ForecastCoverage cover;
  while (cover.seasons < seasons) {
    const KnownSeason known = world.draw(simulated, seed * 1000 + 7);
    const auto best = true_best(known.pairs);
    const PairingForecast told = forecast(known.request, {false}).front();
    if (!best || !told.graft_on) continue;
    const Day day = known.request.today + std::chrono::days(*best);
    ++cover.seasons;
    cover.before += day < told.graft_on->p10 ? 1 : 0;
    cover.after += day > told.graft_on->p90 ? 1 : 0;
    for (const DayOutlook& outlook : told.by_day) {
      const double chance = outlook.best / (1 - told.never);
      if (outlook.on < told.graft_on->p10) {
        cover.expected_before += chance;
      } else if (outlook.on > told.graft_on->p90) {
        cover.expected_after += chance;
      } else {
        cover.expected += chance / seasons;
      }
    }
    cover.width_days +=
        static_cast<double>((told.graft_on->p90 - told.graft_on->p10).count()) / seasons;
  }
  cover.held = cover.seasons - cover.before - cover.after;
  return cover;
}

}  // namespace takehold::client
