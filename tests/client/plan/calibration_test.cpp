#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

#include "client/plan/season_planner.hpp"
#include "embedded/places.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

constexpr int kSeasons = 3000;

double by_r(const std::string& arguments) {
  return std::stod(testing::answer_of(
      "Rscript --vanilla " TAKEHOLD_SOURCE_DIR "/tests/client/plan/calibration.R " + arguments));
}

struct Case {
  double degc;
  int days_to_emergence;  // of the table: Harrington & Minges 1954
  int want;
  double confidence;
  LotKnowledge rootstock = assumed_of(Species::interspecific, {17, 3});
  LotKnowledge scion = assumed_of(Species::lycopersicum, {17, 3});
  Tally record{};
  GraftsMade made{};
  double cell_price = 0.05;  // for nothing, waves are worth it
};

PlanRequest one_pairing(const Case& c) {
  PlanRequest request;
  request.made_on = sensors::make_day(2027, 1, 10);
  request.season.ready_on = sensors::make_day(2027, 5, 15);
  request.season.confidence = c.confidence;
  request.season.cell_price = c.cell_price;
  Bench bench;
  bench.day = bench.night = sensors::Celsius::degc(c.degc);
  request.benches = {bench};
  Variety scion, rootstock;
  scion.name = "Quarry Pink";
  rootstock.name = "Ironfoot";
  rootstock.species = Species::interspecific;
  request.varieties = {scion, rootstock};
  request.lots = {{"QP-27", "Quarry Pink", 2027, 5000}, {"IF-27", "Ironfoot", 2027, 5000}};
  request.known = {{"QP-27", c.scion}, {"IF-27", c.rootstock}};
  Pairing pairing;
  pairing.id = "P1";
  pairing.scion = "Quarry Pink";
  pairing.rootstock = "Ironfoot";
  pairing.want = c.want;
  request.pairings = {pairing};
  if (c.record.tried > 0) request.takes[pairing.names()] = c.record;
  request.made["P1"] = c.made;
  return request;
}

void add(std::ostream& arguments, const LotKnowledge& known) {
  arguments << ' ' << known.viability.a << ' ' << known.viability.b << ' '
            << known.ln_emergence.mean << ' ' << known.ln_emergence.sd << ' '
            << known.ln_vigour.mean << ' ' << known.ln_vigour.sd;
}

// One side's sowings: the first wave's age at the graft, days from the first to the last.
struct SideSown {
  SideSown(const std::vector<ProposedSowing>& sowings, Day graft_on)
      : waves(static_cast<int>(sowings.size())) {
    for (const ProposedSowing& sowing : sowings) seeds += sowing.seeds;
    age = static_cast<int>((graft_on - sowings.front().sow_on).count());
    span = static_cast<int>((sowings.back().sow_on - sowings.front().sow_on).count());
  }
  int waves, seeds = 0, age = 0, span = 0;
};

class Calibration : public ::testing::TestWithParam<Case> {};

// An independent simulation of the same model, in R, lands at the probability that the plan states.
TEST_P(Calibration, the_plan_keeps_its_word) {
  const Case& c = GetParam();
  const PlannedPairing plan = plan_season(one_pairing(c)).pairings.at(0);
  const SideSown below(plan.rootstock_sowings, *plan.graft_on);
  const SideSown above(plan.scion_sowings, *plan.graft_on);
  EXPECT_TRUE(below.waves + above.waves > 2 || c.cell_price > 0);
  std::ostringstream arguments;
  arguments << c.days_to_emergence << ' ' << c.degc << ' ' << below.seeds << ' ' << below.age << ' '
            << above.seeds << ' ' << above.age << ' ' << plan.grafts << ' ' << c.want - c.made.taken
            << ' ' << kSeasons << " 11";
  add(arguments, c.rootstock);
  add(arguments, c.scion);
  arguments << ' ' << c.record.yes << ' ' << c.record.tried << ' ' << c.made.pending << ' '
            << below.waves << ' ' << below.span << ' ' << above.waves << ' ' << above.span;
  const double found = by_r(arguments.str());
  const double error = std::sqrt(plan.probability * (1 - plan.probability) / kSeasons +
                                 *plan.standard_error * *plan.standard_error);
  EXPECT_NEAR(found, plan.probability, 3 * error + 0.01) << arguments.str();
  EXPECT_GE(plan.probability, c.confidence - 1e-9);
}

// A slow scion and an early rootstock, both known well, as after a season of measuring.
LotKnowledge known(Chance viability, LogBelief ln_emergence, LogBelief ln_vigour) {
  LotKnowledge lot;
  lot.viability = viability;
  lot.ln_emergence = ln_emergence;
  lot.ln_vigour = ln_vigour;
  return lot;
}
const LotKnowledge kSlow = known({30, 20}, {0.15, 0.06}, {-0.25, 0.05});
const LotKnowledge kEarly = known({46, 4}, {-0.1, 0.08}, {0.2, 0.1});

void PrintTo(const Case& c, std::ostream* out) {
  *out << c.want << " plants at " << c.degc << " degC";
}

INSTANTIATE_TEST_SUITE_P(Cases, Calibration,
                         ::testing::Values(Case{20, 8, 4, 0.9}, Case{25, 6, 2, 0.7}));
INSTANTIATE_TEST_SUITE_P(OwnRecord, Calibration,
                         ::testing::Values(Case{20, 8, 6, 0.9, kEarly, kSlow, {45, 50}},
                                           Case{25, 6, 6, 0.8, kSlow, kEarly, {6, 12}, {1, 3}}));
INSTANTIATE_TEST_SUITE_P(
    Waves, Calibration,
    ::testing::Values(Case{
        .degc = 20, .days_to_emergence = 8, .want = 6, .confidence = 0.9, .cell_price = 0}));

// What was learned of the lots moves the days and the counts.
TEST(OwnRecord, a_slow_scion_is_sown_earlier_and_a_poor_lot_thicker) {
  const Case prior{20, 8, 6, 0.9};
  Case slow = prior;
  slow.scion = kSlow;
  const PlannedPairing before = plan_season(one_pairing(prior)).pairings.at(0);
  const PlannedPairing after = plan_season(one_pairing(slow)).pairings.at(0);
  EXPECT_LT(*after.offset_days, *before.offset_days);
  EXPECT_LT(after.scion_sowings.at(0).sow_on, before.scion_sowings.at(0).sow_on);
  Case poor = prior;
  poor.scion.viability = {60, 140};
  EXPECT_GT(plan_season(one_pairing(poor)).pairings.at(0).scion_sowings.at(0).seeds,
            before.scion_sowings.at(0).seeds);
}

// A lot that is known exactly needs less seed than one of the same middle that is not.
TEST(OwnRecord, what_is_known_better_needs_less_seed) {
  const Case prior{20, 8, 6, 0.9};
  Case sure = prior;
  for (LotKnowledge* lot : {&sure.rootstock, &sure.scion}) {
    lot->viability = {1700, 300};
    lot->ln_emergence.sd = lot->ln_vigour.sd = 0.01;
  }
  EXPECT_LT(plan_season(one_pairing(sure)).pairings.at(0).cost,
            plan_season(one_pairing(prior)).pairings.at(0).cost);
}

TEST(GraftsMade, are_not_made_again) {
  Case none{20, 8, 6, 0.9};
  Case some = none, all = none;
  some.made = {2, 2};
  all.made = {6, 0};
  const PlannedPairing before = plan_season(one_pairing(none)).pairings.at(0);
  const PlannedPairing rest = plan_season(one_pairing(some)).pairings.at(0);
  EXPECT_LT(rest.grafts, before.grafts - 2);
  EXPECT_LT(rest.cost, before.cost);
  EXPECT_GE(rest.finished.mean, 6);
  const PlannedPairing complete = plan_season(one_pairing(all)).pairings.at(0);
  EXPECT_EQ(complete.grafts, 0);
  EXPECT_EQ(complete.probability, 1);
  EXPECT_TRUE(complete.scion_sowings.empty());
  EXPECT_EQ(complete.finished.p10, 6);
}

}  // namespace
}  // namespace takehold::client
