// bench_advice_gain [SEED] [SEASONS]: finished plants with and without the cooler place advised.
#include <fmt/format.h>

#include <cstdlib>

#include "tests/client/forecast/advice_gain.hpp"

int main(int argc, char** argv) {
  const auto seed = static_cast<std::uint64_t>(argc > 1 ? std::atoll(argv[1]) : 2027);
  const auto gain =
      takehold::client::gain_of_cooler_benches(seed, argc > 2 ? std::atoi(argv[2]) : 100, 300);
  fmt::print(
      "{} seasons, seed {}: {:.2f} finished plants, {:.2f} with the advice: {:+.2f} "
      "(standard error {:.2f}); promised {:+.2f}\n",
      gain.seasons, seed, gain.before, gain.after, gain.after - gain.before, gain.error,
      gain.promised);
}
