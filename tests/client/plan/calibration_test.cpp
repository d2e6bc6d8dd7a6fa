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

PlanRequest one_pairing(double degc, int want, double confidence) {
  PlanRequest request;
  request.made_on = sensors::make_day(2027, 1, 10);
  request.season.ready_on = sensors::make_day(2027, 5, 15);
  request.season.confidence = confidence;
  Bench bench;
  bench.day = bench.night = sensors::Celsius::degc(degc);
  request.benches = {bench};
  Variety scion, rootstock;
  scion.name = "Quarry Pink";
  rootstock.name = "Ironfoot";
  rootstock.species = Species::interspecific;
  request.varieties = {scion, rootstock};
  request.lots = {{"QP-27", "Quarry Pink", 2027, 5000}, {"IF-27", "Ironfoot", 2027, 5000}};
  Pairing pairing;
  pairing.scion = "Quarry Pink";
  pairing.rootstock = "Ironfoot";
  pairing.want = want;
  request.pairings = {pairing};
  return request;
}

struct Case {
  double degc;
  int days_to_emergence;  // of the table: Harrington & Minges 1954
  int want;
  double confidence;
};

class Calibration : public ::testing::TestWithParam<Case> {};

// An independent simulation of the same model, in R, lands at the probability that the plan states.
TEST_P(Calibration, the_plan_keeps_its_word) {
  const Case& c = GetParam();
  const PlannedPairing plan = plan_season(one_pairing(c.degc, c.want, c.confidence)).pairings.at(0);
  const auto& below = plan.rootstock_sowings.at(0);
  const auto& above = plan.scion_sowings.at(0);
  std::ostringstream arguments;
  arguments << c.days_to_emergence << ' ' << c.degc << ' ' << below.seeds << ' '
            << (*plan.graft_on - below.sow_on).count() << ' ' << above.seeds << ' '
            << (*plan.graft_on - above.sow_on).count() << ' ' << plan.grafts << ' ' << c.want << ' '
            << kSeasons << " 11";
  const double found = by_r(arguments.str());
  const double error = std::sqrt(plan.probability * (1 - plan.probability) / kSeasons +
                                 *plan.standard_error * *plan.standard_error);
  EXPECT_NEAR(found, plan.probability, 3 * error + 0.01) << arguments.str();
}

INSTANTIATE_TEST_SUITE_P(Cases, Calibration,
                         ::testing::Values(Case{20, 8, 4, 0.9}, Case{25, 6, 2, 0.7}));

}  // namespace
}  // namespace takehold::client
