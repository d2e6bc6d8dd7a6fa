#include "client/growth/stem_band.hpp"

#include <algorithm>
#include <cmath>

#include "client/growth/emergence.hpp"
#include "client/growth/keyed_random.hpp"
#include "client/growth/stem.hpp"

namespace takehold::client {
namespace {

constexpr std::uint64_t kSeed = 1;
constexpr double kHardlyAny = 0.1;

struct Drawn {
  Age up;
  double vigour;
  double ln_size;
};

std::vector<Drawn> drawn_seedlings(const LotPosterior& lot, Species species, const Course& course,
                                   int draws) {
  const double spread = emergence_prior(species).seed_spread;
  const KeyedRandom random(kSeed);
  std::vector<Drawn> drawn;
  for (int i = 0; i < draws; ++i) {
    const auto dice = random.stream({static_cast<std::uint64_t>(i)});
    const LotDraw one = lot.draw(
        {dice.uniform(0), dice.uniform(1), dice.uniform(2), dice.uniform(3), dice.uniform(4)});
    const auto up = course.age_at_progress(std::exp(one.ln_emergence + spread * dice.normal(5)));
    if (up) drawn.push_back({*up, std::exp(one.ln_vigour), one.scatter * dice.normal(6)});
  }
  return drawn;
}

sensors::Millimetres quantile(const std::vector<double>& sorted, double share) {
  const auto last = static_cast<double>(sorted.size() - 1);
  return sensors::Millimetres::mm(std::exp(sorted[static_cast<std::size_t>(share * last + 0.5)]));
}

}  // namespace

std::vector<StemBand> stem_bands(const LotPosterior& lot, Species species, const Course& course,
                                 std::span<const Age> ages, int draws) {
  const auto seedlings = drawn_seedlings(lot, species, course, draws);
  std::vector<StemBand> bands;
  for (const Age age : ages) {
    std::vector<double> ln_mm;
    for (const Drawn& seedling : seedlings) {
      if (seedling.up > age) continue;
      const auto heat = course.heat_between(seedling.up, age);
      ln_mm.push_back(StemGrowth{}.ln_mm(heat, seedling.vigour) + seedling.ln_size);
    }
    const double up = static_cast<double>(ln_mm.size()) / draws;
    if (up < kHardlyAny) continue;
    std::sort(ln_mm.begin(), ln_mm.end());
    bands.push_back({age, up, quantile(ln_mm, 0.05), quantile(ln_mm, 0.5), quantile(ln_mm, 0.95)});
  }
  return bands;
}

}  // namespace takehold::client
