// Seasons that are known: two lots sown, counted and measured by an arithmetic of its own, and what
// really could be grafted on each day after.
//
// Pairs are counted by augmenting paths over all allowed pairs of diameters in doubles, which has
// nothing in common with the program's walk over sorted stems.
#pragma once

#include <functional>
#include <string>

#include "client/forecast/forecast_request.hpp"
#include "tests/client/growth/lot_world.hpp"

namespace takehold::client {

struct KnownSeason {
  ForecastRequest request{};
  std::vector<int> pairs{};  ///< by day from today on: what really can be made
  struct Side {
    TrueLot lot;
    std::vector<LotWorld::Plant> plants;
    int age;
  };
  SteadyBench bench{};
  Side rootstocks{}, scions{};
};

/// A side carried to a place so much cooler for some days from today on.
struct Cooled {
  double kelvin = 0;
  int days = 0;
};

/// How the grower of these seasons works.
struct Nursery {
  int seeds_low = 8, seeds_high = 24;
  int age_low = 10, age_high = 19;  ///< of the scions on the day of the forecast
  int late_low = 1, late_high = 5;  ///< days by which they were sown after the rootstocks
};

class SeasonWorld {
 public:
  explicit SeasonWorld(std::uint64_t seed) : world_(seed) {}

  KnownSeason draw(int seasons, std::uint64_t forecast_seed, const Nursery& nursery = {}) {
    const SteadyBench& bench = kSteadyBenches[world_.between(0, 1)];
    KnownSeason known;
    known.request.today = sensors::make_day(2027, 4, 12);
    known.request.seasons = seasons;
    known.request.seed = forecast_seed;
    known.request.season.ready_on = sensors::make_day(2027, 5, 20);
    known.request.benches = {
        Bench{"bench", 0, Celsius::degc(bench.degc), Celsius::degc(bench.degc)}};
    const int age = world_.between(nursery.age_low, nursery.age_high);
    const int late = world_.between(nursery.late_low, nursery.late_high);
    const int seeds = world_.between(nursery.seeds_low, nursery.seeds_high);
    known.bench = bench;
    known.rootstocks = side(known, Species::interspecific, bench, age + late, seeds, "R");
    known.scions = side(known, Species::lycopersicum, bench, age, seeds, "S");
    ForecastPairing pairing;
    pairing.id = "P1";
    pairing.want = std::max(1, seeds / 3);
    pairing.grafts = seeds;
    pairing.last_on = known.request.today + std::chrono::days(24);
    pairing.take = TakeBelief(Chance{18, 4});
    pairing.rootstocks = {{0}};
    pairing.scions = {{1}};
    known.request.pairings = {pairing};
    known.pairs = pairs_of(known, {}, {});
    return known;
  }

  /// By day from today on, each side cooled or not. Seeds that are not up today count as if they
  /// came up as they would have: few are left by then.
  static std::vector<int> pairs_of(const KnownSeason& known, const Cooled& below,
                                   const Cooled& above) {
    std::vector<int> pairs;
    for (int day = 0; day < known.request.days; ++day) {
      pairs.push_back(most_pairs(stems(known.rootstocks, known.bench, day, below),
                                 stems(known.scions, known.bench, day, above)));
    }
    return pairs;
  }

  /// Finished plants, at most `want` counted, of so many grafts.
  int finished(int grafts, int want, double take) {
    int taken = 0;
    for (int i = 0; i < grafts; ++i) taken += world_.uniform() < take ? 1 : 0;
    return std::min(taken, want);
  }

  static std::vector<double> stems(const KnownSeason::Side& side, const SteadyBench& bench, int day,
                                   const Cooled& cooled) {
    // Degree-days that the cooler place took away, as days on the bench.
    const double lost = cooled.kelvin * std::min(day, cooled.days) / (bench.degc - 10);
    std::vector<double> stems;
    for (const auto& plant : side.plants) {
      const double age = side.age + day - lost;
      const double mm = LotWorld::diameter(side.lot, bench, plant, age);
      const bool grown = (bench.degc - 10) * (age - plant.up) >= 120;
      if (grown && mm >= 1.5 && mm <= 2.6) stems.push_back(mm);
    }
    return stems;
  }

  static int most_pairs(const std::vector<double>& below, const std::vector<double>& above) {
    std::vector<int> taken(above.size(), -1);
    std::vector<bool> seen;
    const std::function<bool(std::size_t)> place = [&](std::size_t i) {
      for (std::size_t j = 0; j < above.size(); ++j) {
        const bool fits = std::abs(below[i] - above[j]) <= 0.05 * (below[i] + above[j]);
        if (!fits || seen[j]) continue;
        seen[j] = true;
        if (taken[j] >= 0 && !place(static_cast<std::size_t>(taken[j]))) continue;
        taken[j] = static_cast<int>(i);
        return true;
      }
      return false;
    };
    int pairs = 0;
    for (std::size_t i = 0; i < below.size(); ++i) {
      seen.assign(above.size(), false);
      pairs += place(i) ? 1 : 0;
    }
    return pairs;
  }

 private:
  KnownSeason::Side side(KnownSeason& known, Species species, const SteadyBench& bench, int age,
                         int seeds, const std::string& name) {
    LotSeen seen{species, viability_prior(Origin::bought, 1), {}};
    const TrueLot lot = world_.draw_lot(species, seen.viability);
    const auto plants = world_.sow(lot, species, seeds, bench);
    const BenchCycle cycle{Celsius::degc(bench.degc), Celsius::degc(bench.degc), 14};
    ForecastTray tray;
    tray.hourly = hourly_from_noon(cycle, std::chrono::days(100));
    SowingSeen sowing;
    sowing.course = std::make_shared<Course>(tray.hourly);
    sowing.seeds = seeds;
    for (int at = static_cast<int>(bench.days); at <= age; at += world_.between(2, 4)) {
      const auto up = std::count_if(plants.begin(), plants.end(),
                                    [&](const auto& plant) { return plant.up <= at; });
      sowing.counts.push_back({Age(at), static_cast<int>(up)});
    }
    measure(sowing, lot, bench, plants, age);
    if (!sowing.counts.empty()) tray.state.standing = sowing.counts.back().up;
    seen.sowings = {sowing};
    ForecastLot believed;
    believed.label = name;
    believed.seen = std::make_shared<LotSeen>(seen);
    believed.posterior = std::make_shared<LotPosterior>(seen);
    tray.id = name + "1";
    tray.lot = known.request.lots.size();
    tray.seen = sowing;
    tray.age = Age(age);
    known.request.lots.push_back(std::move(believed));
    known.request.trays.push_back(std::move(tray));
    return {lot, plants, age};
  }

  /// Once in three seasons nobody measured; else half of what is up, today.
  void measure(SowingSeen& sowing, const TrueLot& lot, const SteadyBench& bench,
               const std::vector<LotWorld::Plant>& plants, int age) {
    if (sowing.counts.empty() || world_.uniform() < 1.0 / 3) return;
    int number = 0;
    const double last = sowing.counts.back().at.count();
    for (const auto& plant : plants) {
      if (plant.up > last || world_.uniform() < 0.5) continue;
      const double mm = LotWorld::diameter(lot, bench, plant, age);
      sowing.seedlings.push_back({++number, {{Age(age), world_.read(mm)}}});
    }
  }

  LotWorld world_;
};

}  // namespace takehold::client
