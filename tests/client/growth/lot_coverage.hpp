// How often the posterior holds the truth, over lots drawn from the prior.
#pragma once

#include <array>

#include "client/growth/lot_posterior.hpp"
#include "tests/client/growth/lot_world.hpp"

namespace takehold::client {

inline constexpr int kRankBins = 20;

struct Coverage {
  int lots = 0;
  int held = 0;  ///< truth within the middle 90 %
  std::array<int, kRankBins> ranks{};

  void add(const Marginal& belief, double truth) {
    const double rank = belief.below(truth);
    ++lots;
    held += rank >= 0.05 && rank <= 0.95 ? 1 : 0;
    ++ranks[std::min<std::size_t>(static_cast<std::size_t>(rank * kRankBins), kRankBins - 1)];
  }
  double share() const { return static_cast<double>(held) / lots; }
  double chi_square() const {
    const double expected = static_cast<double>(lots) / kRankBins;
    double sum = 0;
    for (const int n : ranks) sum += (n - expected) * (n - expected) / expected;
    return sum;
  }
};

struct LotCoverage {
  Coverage viability, ln_emergence, ln_vigour;
};

inline LotCoverage cover(std::uint64_t seed, int lots) {
  LotWorld world(seed);
  LotCoverage cover;
  for (int i = 0; i < lots; ++i) {
    const KnownLot known = draw_known_lot(world);
    const LotPosterior posterior(known.seen);
    cover.viability.add(posterior.viability(), known.truth.viability);
    cover.ln_emergence.add(posterior.ln_emergence(), known.truth.ln_emergence);
    cover.ln_vigour.add(posterior.ln_vigour(), known.truth.ln_vigour);
  }
  return cover;
}

}  // namespace takehold::client
