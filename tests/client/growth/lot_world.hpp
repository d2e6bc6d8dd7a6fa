// Lots that are known: drawn from the prior, then counted and measured, by arithmetic of its own.
//
// The bench stands at a temperature of the published emergence table, so that neither the table's
// curve nor the hourly sums of the program are used: up after (days of the table) e z, heat
// (T - 10) a day, D = A exp(ln(D0/A) exp(-k v x)) s.
#pragma once

#include <boost/math/special_functions/beta.hpp>
#include <cmath>
#include <memory>
#include <random>
#include <vector>

#include "client/growth/lot_record.hpp"
#include "client/growth/viability.hpp"

namespace takehold::client {

struct TrueLot {
  double viability = 0;
  double ln_emergence = 0;
  double ln_vigour = 0;
  double scatter = 0;
};

/// A bench at one temperature and the published days to emergence there.
struct SteadyBench {
  double degc;
  double days;
};
inline constexpr SteadyBench kSteadyBenches[] = {{20, 8}, {25, 6}, {30, 6}};

class LotWorld {
 public:
  explicit LotWorld(std::uint64_t seed) : random_(seed) {}

  double uniform() { return (static_cast<double>(random_() >> 12) + 0.5) * 0x1p-52; }
  double normal() { return std::sqrt(-2 * std::log(uniform())) * std::cos(2 * M_PI * uniform()); }
  int between(int low, int high) { return low + static_cast<int>(uniform() * (high - low + 1)); }

  TrueLot draw_lot(Species species, Chance viability) {
    const double middle = species == Species::interspecific ? 1.3 : 1.0;
    return {boost::math::ibeta_inv(viability.a, viability.b, uniform()),
            std::log(middle) + 0.15 * normal(), 0.20 * normal(), 0.10 * std::exp(0.3 * normal())};
  }

  struct Plant {
    double up;  // days
    double size;
  };
  /// The seeds of a sowing that come up at all.
  std::vector<Plant> sow(const TrueLot& lot, Species species, int seeds, const SteadyBench& bench) {
    const double spread = species == Species::interspecific ? 0.22 : 0.15;
    std::vector<Plant> plants;
    for (int seed = 0; seed < seeds; ++seed) {
      if (uniform() >= lot.viability) continue;
      const double up = bench.days * std::exp(lot.ln_emergence + spread * normal());
      plants.push_back({up, std::exp(lot.scatter * normal())});
    }
    return plants;
  }
  static double diameter(const TrueLot& lot, const SteadyBench& bench, const Plant& plant,
                         double age) {
    const double heat = (bench.degc - 10) * (age - plant.up);
    return 7.0 *
           std::exp(std::log(1.1 / 7.0) * std::exp(-0.0026 * std::exp(lot.ln_vigour) * heat)) *
           plant.size;
  }
  /// A calliper reading, wrong 1 time in 20.
  sensors::Millimetres read(double diameter) {
    const bool wrong = uniform() < 0.05;
    const double mm = wrong ? 0.3 * std::pow(50, uniform()) : diameter + 0.05 * normal();
    return sensors::Millimetres::mm(mm);
  }

 private:
  std::mt19937_64 random_;
};

/// A lot as a grower would come to know it: one or two sowings, some counts, one or two sessions
/// with the calliper on some of the seedlings, half of them read again in the second.
struct KnownLot {
  TrueLot truth;
  LotSeen seen;
};

inline SowingSeen seen_sowing(LotWorld& world, const TrueLot& lot, Species species,
                              const SteadyBench& bench) {
  SowingSeen sowing;
  const BenchCycle cycle{sensors::Celsius::degc(bench.degc), sensors::Celsius::degc(bench.degc),
                         14};
  sowing.course = std::make_shared<Course>(hourly_from_noon(cycle, std::chrono::days(60)));
  sowing.seeds = world.between(8, 30);
  const auto plants = world.sow(lot, species, sowing.seeds, bench);
  const auto up_by = [&](double age) {
    return static_cast<int>(std::count_if(plants.begin(), plants.end(),
                                          [&](const auto& plant) { return plant.up <= age; }));
  };
  double age = bench.days * (0.7 + 0.5 * world.uniform());
  for (int counts = world.between(0, 4); counts > 0; --counts, age += world.between(1, 3)) {
    sowing.counts.push_back({Age(age), up_by(age)});
  }
  std::vector<SeedlingSeen> seedlings(plants.size());
  double session = bench.days + world.between(3, 12);
  for (int sessions = world.between(0, 2); sessions > 0; --sessions, session += 3) {
    for (std::size_t i = 0; i < plants.size(); ++i) {
      if (plants[i].up > session || world.uniform() < 0.5) continue;
      seedlings[i].number = static_cast<int>(i) + 1;
      const double mm = LotWorld::diameter(lot, bench, plants[i], session);
      seedlings[i].readings.push_back({Age(session), world.read(mm)});
    }
  }
  for (auto& seedling : seedlings) {
    if (!seedling.readings.empty()) sowing.seedlings.push_back(std::move(seedling));
  }
  return sowing;
}

inline KnownLot draw_known_lot(LotWorld& world) {
  KnownLot known;
  constexpr Origin kOrigins[] = {Origin::bought, Origin::fermented, Origin::paper};
  known.seen.species = world.between(0, 1) == 0 ? Species::lycopersicum : Species::interspecific;
  known.seen.viability = viability_prior(kOrigins[world.between(0, 2)], world.between(0, 6));
  known.truth = world.draw_lot(known.seen.species, known.seen.viability);
  const SteadyBench& bench = kSteadyBenches[world.between(0, 2)];
  for (int waves = world.uniform() < 0.3 ? 2 : 1; waves > 0; --waves) {
    known.seen.sowings.push_back(seen_sowing(world, known.truth, known.seen.species, bench));
  }
  return known;
}

}  // namespace takehold::client
