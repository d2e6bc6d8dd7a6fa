#include "client/plan/waves.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "client/plan/season_basis.hpp"
#include "client/plan/season_planner.hpp"

namespace takehold::client {
namespace {

PlanRequest one_pairing(double rootstock_price, double scion_price) {
  PlanRequest request;
  request.made_on = sensors::make_day(2027, 1, 10);
  request.seasons = 2048;
  request.season.ready_on = sensors::make_day(2027, 5, 15);
  request.season.cell_price = 0.0;
  Bench bench;
  bench.day = bench.night = sensors::Celsius::degc(20);
  request.benches = {bench};
  Variety scion, rootstock;
  scion.name = "Quarry Pink";
  rootstock.name = "Ironfoot";
  rootstock.species = Species::interspecific;
  request.varieties = {scion, rootstock};
  request.lots = {{"QP-27", "Quarry Pink", 2027, 5000, scion_price, 1},
                  {"IF-27", "Ironfoot", 2027, 5000, rootstock_price, 1}};
  request.pairings.emplace_back();
  request.pairings[0].scion = "Quarry Pink";
  request.pairings[0].rootstock = "Ironfoot";
  request.pairings[0].want = 6;
  return request;
}

struct Drafted {
  explicit Drafted(const PlanRequest& request) : box(request), season(request) {
    draft =
        draft_pairing(season.basis(), box, request.pairings[0], {{{1, kNoLimit}}, {{0, kNoLimit}}});
  }
  double cost() const {
    return CountCosts(draft.rootstock, draft.scion, prices_of(season.basis().request.season))
        .of(draft.needed);
  }
  SeedBox box;
  SeasonBasis season;
  PairDraft draft;
};

TEST(Waves, are_sown_only_where_they_save_a_twentieth_and_keep_the_confidence) {
  int in_waves = 0;
  for (const auto& [below, above] : {std::pair{0.5, 0.1}, {5.0, 0.001}, {0.001, 5.0}, {1.0, 1.0}}) {
    const PlanRequest request = one_pairing(below, above);
    Drafted one(request), waves(request);
    const bool is_in_waves = sow_in_waves(waves.season.basis(), waves.draft);
    in_waves += is_in_waves ? 1 : 0;
    EXPECT_EQ(is_in_waves, waves.draft.rootstock.parts.size() + waves.draft.scion.parts.size() > 2);
    if (!is_in_waves) {
      EXPECT_EQ(waves.draft.needed, one.draft.needed);
      continue;
    }
    EXPECT_LE(waves.cost(), 0.95 * one.cost());
    judge_listed(waves.season.basis(), waves.draft);
    EXPECT_GE(waves.draft.chance.probability, 0.9 - 1e-9);
  }
  EXPECT_GT(in_waves, 0);
}

}  // namespace
}  // namespace takehold::client
