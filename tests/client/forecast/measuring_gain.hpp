// What measuring as suggested is worth against measuring every sowing alike, where the truth is
// known.
//
// Seasons of one rootstock lot under three scion lots, counted twice; one scion lot was half
// measured three days ago and one is hardly up. The same number of stems is then measured both
// ways.
#pragma once

#include <cmath>

#include "client/forecast/forecast.hpp"
#include "client/forecast/worth_measuring.hpp"
#include "tests/client/forecast/forecast_coverage.hpp"

namespace takehold::client {

struct MeasuringGain {
  int seasons = 0;
  int stems = 0;  ///< measured each way, all seasons together
  // Of the day each side's middle stem is 2.0 mm, over both sides of every pairing: what the
  // posteriors leave of its variance, and the squared error really made.
  double variance_none = 0, variance_alike = 0, variance_suggested = 0;
  double none = 0, alike = 0, suggested = 0;
  double gain = 0;   ///< of the variance: mean of alike - suggested, season by season
  double error = 0;  ///< its standard error
  // Of the forecasts then made: days from p10 to p90, and how far p50 is from the true best day.
  double alike_width = 0, suggested_width = 0;
  double alike_miss = 0, suggested_miss = 0;
  std::vector<double> stems_by_tray = std::vector<double>(4);  ///< suggested, a season

  double t() const { return gain / error; }
};

class MeasuringWorld {
 public:
  explicit MeasuringWorld(std::uint64_t seed) : world_(seed) {}

  struct Grown {
    TrueLot lot{};
    std::vector<LotWorld::Plant> plants{};  ///< that are counted, in tray order
    std::vector<LotWorld::Plant> all{};     ///< those to come too
    Species species = Species::lycopersicum;
    double age = 0;
  };
  struct Known {
    ForecastRequest request{};
    std::vector<Grown> grown{};  ///< by tray
  };

  Known draw() {
    Known known;
    known.request.today = sensors::make_day(2027, 4, 12);
    known.request.seasons = 200;
    known.request.season.ready_on = sensors::make_day(2027, 5, 20);
    known.request.benches = {Bench{"bench", 0, Celsius::degc(20), Celsius::degc(20)}};
    add_side(known, Species::interspecific, 18, 24, 0);
    add_side(known, Species::lycopersicum, 15, 10, 0);
    add_side(known, Species::lycopersicum, 15, 10, 3);
    add_side(known, Species::lycopersicum, 15, 10, 3);
    for (std::size_t scion = 1; scion <= 3; ++scion) {
      ForecastPairing pairing;
      pairing.id = "P" + std::to_string(scion);
      pairing.want = 4;
      pairing.grafts = 6;
      pairing.last_on = known.request.today + std::chrono::days(24);
      pairing.take = TakeBelief(Chance{18, 4});
      pairing.rootstocks = {{0}};
      pairing.scions = {{scion}};
      known.request.pairings.push_back(pairing);
    }
    return known;
  }

  /// Measures so many of each tray's plants, spread over it, and learns the lots anew.
  void measure(Known& known, const std::vector<int>& stems) {
    for (std::size_t tray = 0; tray < stems.size(); ++tray) {
      const Grown& grown = known.grown[tray];
      SowingSeen& seen = known.request.trays[tray].seen;
      for (int i = 0; i < stems[tray]; ++i) {
        const auto plant = static_cast<std::size_t>(i) * grown.plants.size() /
                           static_cast<std::size_t>(stems[tray]);
        read(seen, grown, plant, grown.age);
      }
      learn(known, tray);
    }
  }

  /// Mean over the pairings' sides of the variance of the day, and of its squared error.
  static std::pair<double, double> uncertainty(const Known& known) {
    double variance = 0, squared = 0;
    for (const ForecastPairing& pairing : known.request.pairings) {
      for (const std::size_t tray : {pairing.rootstocks[0].tray, pairing.scions[0].tray}) {
        const ExpectedDay day = day_at_clip(known.request, tray);
        const double off = day.mean_days - true_day(known.grown[tray]);
        variance += day.sd_days * day.sd_days / 6;
        squared += off * off / 6;
      }
    }
    return {variance, squared};
  }

  /// p10 to p90 of the forecasts, and the mean distance of p50 from the day that really is the
  /// best.
  static std::pair<double, double> forecast_of(const Known& known) {
    double width = 0, miss = 0;
    const auto told = forecast(known.request, {false});
    for (std::size_t i = 0; i < told.size(); ++i) {
      const auto best = true_best(true_pairs(known, known.request.pairings[i]));
      if (!told[i].graft_on || !best) continue;
      width += double((told[i].graft_on->p90 - told[i].graft_on->p10).count()) / 3;
      const Day day = known.request.today + std::chrono::days(*best);
      miss += std::abs(double((told[i].graft_on->p50 - day).count())) / 3;
    }
    return {width, miss};
  }

 private:
  static constexpr SteadyBench kBench = kSteadyBenches[0];  // 20 degC, 8 days

  void add_side(Known& known, Species species, int age, int seeds, int measured_days_ago) {
    Grown grown;
    grown.species = species;
    grown.age = age;
    const Chance viability = viability_prior(Origin::bought, 1);
    grown.lot = world_.draw_lot(species, viability);
    SowingSeen seen;
    const BenchCycle cycle{Celsius::degc(kBench.degc), Celsius::degc(kBench.degc), 14};
    ForecastTray tray;
    tray.hourly = hourly_from_noon(cycle, std::chrono::days(100));
    seen.course = std::make_shared<Course>(tray.hourly);
    seen.seeds = seeds;
    const auto plants = world_.sow(grown.lot, species, seeds, kBench);
    for (const int at : {age - 3, age - 1}) {
      const auto up = std::count_if(plants.begin(), plants.end(),
                                    [&](const auto& plant) { return plant.up <= at; });
      seen.counts.push_back({Age(at), static_cast<int>(up)});
      tray.state.standing = static_cast<int>(up);
    }
    grown.all = plants;
    for (const auto& plant : plants) {
      if (plant.up <= age - 1) grown.plants.push_back(plant);
    }
    for (std::size_t i = 0; measured_days_ago > 0 && i < grown.plants.size(); ++i) {
      if (grown.plants[i].up < age - measured_days_ago)
        read(seen, grown, i, age - measured_days_ago);
    }
    tray.id = "S" + std::to_string(known.request.trays.size() + 1);
    tray.lot = known.request.lots.size();
    tray.seen = std::move(seen);
    tray.age = Age(age);
    ForecastLot lot;
    lot.label = tray.id;
    known.request.lots.push_back(lot);
    known.request.trays.push_back(std::move(tray));
    known.grown.push_back(std::move(grown));
    learn(known, known.request.trays.size() - 1);
  }

  void read(SowingSeen& seen, const Grown& grown, std::size_t plant, double age) {
    const double mm = LotWorld::diameter(grown.lot, kBench, grown.plants[plant], age);
    const int number = static_cast<int>(plant) + 1;
    auto known = std::find_if(seen.seedlings.begin(), seen.seedlings.end(),
                              [&](const SeedlingSeen& one) { return one.number == number; });
    if (known == seen.seedlings.end()) known = seen.seedlings.insert(known, {number, {}});
    known->readings.push_back({Age(age), world_.read(mm)});
  }

  static void learn(Known& known, std::size_t tray) {
    ForecastLot& lot = known.request.lots[known.request.trays[tray].lot];
    const LotSeen seen{known.grown[tray].species,
                       viability_prior(Origin::bought, 1),
                       {known.request.trays[tray].seen}};
    lot.seen = std::make_shared<LotSeen>(seen);
    lot.posterior = std::make_shared<LotPosterior>(seen);
  }

  /// By day, of this pairing alone; never more than its grafts.
  static std::vector<int> true_pairs(const Known& known, const ForecastPairing& pairing) {
    const auto side = [&](std::size_t tray) {
      const Grown& grown = known.grown[tray];
      return KnownSeason::Side{grown.lot, grown.all, static_cast<int>(grown.age)};
    };
    const auto below = side(pairing.rootstocks[0].tray), above = side(pairing.scions[0].tray);
    std::vector<int> pairs;
    for (int day = 0; day < known.request.days; ++day) {
      pairs.push_back(std::min(
          pairing.grafts, SeasonWorld::most_pairs(SeasonWorld::stems(below, kBench, day, {}),
                                                  SeasonWorld::stems(above, kBench, day, {}))));
    }
    return pairs;
  }

  /// ln(2/7) = ln(1.1/7) exp(-k v x), by hand.
  static double true_day(const Grown& grown) {
    const double heat =
        -std::log(std::log(2.0 / 7) / std::log(1.1 / 7)) / (0.0026 * std::exp(grown.lot.ln_vigour));
    const double up = kBench.days * std::exp(grown.lot.ln_emergence);
    return up + heat / (kBench.degc - 10) - grown.age;
  }

  LotWorld world_;
};

inline MeasuringGain gain_of_suggestions(std::uint64_t seed, int seasons, int stems) {
  MeasuringWorld world(seed);
  MeasuringGain gain;
  double squares = 0;
  for (; gain.seasons < seasons; ++gain.seasons) {
    auto known = world.draw();
    std::vector<int> suggested(4), alike(4);
    int left = 0;
    for (const StemsToMeasure& one : worth_measuring(known.request, {stems, 0})) {
      suggested[one.tray] = one.stems;
      gain.stems_by_tray[one.tray] += double(one.stems) / seasons;
      left += one.stems;
    }
    gain.stems += left;
    for (std::size_t tray = 0; left > 0; tray = (tray + 1) % 4) {  // one each in turn
      const int standing = *known.request.trays[tray].state.standing;
      if (alike[tray] >= standing) continue;
      ++alike[tray];
      --left;
    }
    auto other = known;
    const auto before = MeasuringWorld::uncertainty(known);
    world.measure(known, suggested);
    world.measure(other, alike);
    const auto with = MeasuringWorld::uncertainty(known);
    const auto without = MeasuringWorld::uncertainty(other);
    gain.variance_none += before.first / seasons;
    gain.variance_suggested += with.first / seasons;
    gain.variance_alike += without.first / seasons;
    gain.none += before.second / seasons;
    gain.suggested += with.second / seasons;
    gain.alike += without.second / seasons;
    const double better = without.first - with.first;
    gain.gain += better / seasons;
    squares += better * better / seasons;
    const auto [narrow, near] = MeasuringWorld::forecast_of(known);
    const auto [wide, far] = MeasuringWorld::forecast_of(other);
    gain.suggested_width += narrow / seasons;
    gain.suggested_miss += near / seasons;
    gain.alike_width += wide / seasons;
    gain.alike_miss += far / seasons;
  }
  gain.error = std::sqrt(std::max(0.0, squares - gain.gain * gain.gain) / seasons);
  return gain;
}

}  // namespace takehold::client
