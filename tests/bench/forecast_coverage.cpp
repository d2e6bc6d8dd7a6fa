// bench_forecast_coverage [SEED] [SEASONS]: how often p10..p90 holds the day that was the best.
#include <fmt/format.h>

#include <cstdlib>

#include "tests/client/forecast/forecast_coverage.hpp"

int main(int argc, char** argv) {
  const auto seed = static_cast<std::uint64_t>(argc > 1 ? std::atoll(argv[1]) : 2027);
  const int seasons = argc > 2 ? std::atoi(argv[2]) : 500;
  const auto cover = takehold::client::cover_forecasts(seed, seasons, 400);
  fmt::print(
      "{} seasons, seed {}: held {:.1f} % (the forecasts themselves say {:.1f} %), before "
      "{} ({:.0f}), after {} ({:.0f}), p10 to p90 {:.2f} days apart on average\n",
      cover.seasons, seed, 100 * cover.share(), 100 * cover.expected, cover.before,
      cover.expected_before, cover.after, cover.expected_after, cover.width_days);
}
