// bench_measuring_gain [SEED] [SEASONS] [STEMS]: the graft day's error after measuring as
// suggested, and after measuring every sowing alike.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cstdlib>

#include "tests/client/forecast/measuring_gain.hpp"

int main(int argc, char** argv) {
  const auto seed = static_cast<std::uint64_t>(argc > 1 ? std::atoll(argv[1]) : 2027);
  const int seasons = argc > 2 ? std::atoi(argv[2]) : 300;
  const int stems = argc > 3 ? std::atoi(argv[3]) : 12;
  const auto gain = takehold::client::gain_of_suggestions(seed, seasons, stems);
  fmt::print(
      "{} seasons, seed {}, {:.1f} stems ({:.1f}). Variance of the day: {:.2f} without, {:.2f} all "
      "sowings alike, {:.2f} as suggested, {:.2f} less (standard error {:.2f}); squared error: "
      "{:.2f}, {:.2f}, {:.2f}\n",
      gain.seasons, seed, double(gain.stems) / gain.seasons, fmt::join(gain.stems_by_tray, " "),
      gain.variance_none, gain.variance_alike, gain.variance_suggested, gain.gain, gain.error,
      gain.none, gain.alike, gain.suggested);
  fmt::print("forecasts: p10 to p90 {:.2f} and {:.2f} days, best day missed by {:.2f} and {:.2f}\n",
             gain.alike_width, gain.suggested_width, gain.alike_miss, gain.suggested_miss);
}
