// What advice is worth where the truth is known.
#pragma once

#include <cmath>

#include "client/forecast/forecast.hpp"
#include "tests/client/forecast/season_world.hpp"

namespace takehold::client {

struct AdviceGain {
  int seasons = 0;                             ///< in which a cooler place was advised
  double before = 0, after = 0, promised = 0;  ///< finished plants on average
  double error = 0;                            ///< standard error of after - before
};

/// Seasons whose rootstocks were sown on the scions' day or later, so that they lag. The grower
/// carries the side that the advice names; both ways each season is grafted on its best day in
/// time.
inline AdviceGain gain_of_cooler_benches(std::uint64_t seed, int seasons, int simulated) {
  SeasonWorld world(seed);
  AdviceGain gain;
  double squares = 0;
  constexpr double kTake = 18.0 / 22;
  for (int drawn = 0; gain.seasons < seasons && drawn < 4 * seasons; ++drawn) {
    const KnownSeason known = world.draw(simulated, seed + 99, {16, 30, 11, 15, -3, 0});
    const PairingForecast told = forecast(known.request).front();
    for (const Advice& advice : told.advice) {
      if (advice.kind != AdviceKind::cooler) continue;
      const Cooled cooled{advice.cooler_kelvin, advice.days};
      const bool below = advice.side == Side::rootstock;
      const auto pairs =
          SeasonWorld::pairs_of(known, below ? cooled : Cooled{}, below ? Cooled{} : cooled);
      const auto in_time = [&](const std::vector<int>& by_day) {
        return *std::max_element(by_day.begin(), by_day.begin() + 25);
      };
      const int want = known.request.pairings.front().want;
      double change = 0;
      constexpr int kTimes = 50;
      for (int i = 0; i < kTimes; ++i) {
        const double before = world.finished(in_time(known.pairs), want, kTake);
        const double after = world.finished(in_time(pairs), want, kTake);
        gain.before += before / kTimes;
        gain.after += after / kTimes;
        change += (after - before) / kTimes;
      }
      squares += change * change;
      gain.promised += advice.useful_after - advice.useful_before;
      ++gain.seasons;
    }
  }
  const double n = gain.seasons;
  gain.before /= n;
  gain.after /= n;
  gain.promised /= n;
  const double mean = gain.after - gain.before;
  gain.error = std::sqrt(std::max(0.0, squares / n - mean * mean) / n);
  return gain;
}

}  // namespace takehold::client
