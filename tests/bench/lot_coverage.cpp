// The learning of lots over 2000 of them: 90 % intervals must hold the truth in 88 to 92 %, and the
// ranks must be flat (chi-square below 43.82: R's qchisq(0.999, 19)). Minutes: run by hand.
#include <fmt/format.h>

#include <cstdlib>

#include "tests/client/growth/lot_coverage.hpp"

using namespace takehold::client;

int main(int count, char** words) {
  const int lots = count > 1 ? std::atoi(words[1]) : 2000;
  const std::uint64_t seed = count > 2 ? std::strtoull(words[2], nullptr, 10) : 1;
  const LotCoverage found = cover(seed, lots);
  bool good = true;
  const auto say = [&](const char* name, const Coverage& c) {
    const bool holds = c.share() >= 0.88 && c.share() <= 0.92 && c.chi_square() < 43.82;
    good = good && holds;
    fmt::print("{:<13} held {:.4f} of {}, chi-square of ranks {:.1f}  {}\n", name, c.share(),
               c.lots, c.chi_square(), holds ? "good" : "BAD");
    for (const int n : c.ranks) fmt::print("{} ", n);
    fmt::print("\n");
  };
  say("viability", found.viability);
  say("ln emergence", found.ln_emergence);
  say("ln vigour", found.ln_vigour);
  return good ? 0 : 1;
}
