#include "client/takes/worth.hpp"

#include <gtest/gtest.h>

#include "client/takes/ranking.hpp"
#include "client/takes/take_knowledge.hpp"
#include "client/takes/things_to_try.hpp"
#include "client/takes/trial.hpp"

namespace takehold::client {
namespace {

// Student 1908's sleep data; R 4.2.2: t.test(extra ~ group, data = sleep)$conf.int.
TEST(Worth, welch_of_the_sleep_data) {
  const std::vector<double> first{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
  const std::vector<double> second{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};
  const auto found = welch(first, second);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->low, -3.3654832, 1e-7);
  EXPECT_NEAR(found->high, 0.2054832, 1e-7);
  EXPECT_FALSE(welch(std::vector<double>{1}, second));
  EXPECT_FALSE(welch(std::vector<double>{1, 1}, std::vector<double>{2, 2}));
}

// Rivard et al. 2010 (HortTechnology 20:794): a grafted plant costs 0.59 against 0.13 US$; the cost
// of a living one is that of a graft made divided by the take rate.
TEST(Worth, a_living_plant_costs_a_graft_made_over_the_take_rate) {
  EXPECT_NEAR(*cost_of_living_graft(0.59, 0.90), 0.6556, 5e-5);
  EXPECT_FALSE(cost_of_living_graft(0.59, 0));
}

TEST(Worth, weights_and_costs_are_set_side_by_side) {
  const Crop grafted{3, 9.0, {2.5, 3.0, 3.5}, 1.20};
  const Crop own{2, 4.0, {1.9, 2.1}, 0.20};
  const Worth worth = worth_of(grafted, own);
  EXPECT_NEAR(*worth.more_kg, 1.0, 1e-12);
  EXPECT_NEAR(*worth.more_cost, 1.0, 1e-12);
  EXPECT_NEAR(*worth.cost_a_more_kg, 1.0, 1e-12);
  ASSERT_TRUE(worth.between);
  const std::string text = worth_text("Quarry Pink", worth);
  EXPECT_NE(text.find("3.00 kg a plant (3 plants)"), std::string::npos) << text;
  EXPECT_NE(text.find("1.00 kg more"), std::string::npos) << text;
  EXPECT_NE(text.find("each further kilogram cost 1.00"), std::string::npos) << text;
}

TEST(Worth, what_is_not_known_is_said) {
  const std::string none = worth_text("A", worth_of({3, 9, {}, {}}, {}));
  EXPECT_NE(none.find("nothing to set side by side"), std::string::npos) << none;
  const std::string unsure = worth_text("A", worth_of({3, 6, {}, {}}, {2, 5, {}, {}}));
  EXPECT_NE(unsure.find("cannot be said"), std::string::npos) << unsure;
  EXPECT_NE(unsure.find("not worth it"), std::string::npos) << unsure;
  EXPECT_NE(unsure.find("is not known"), std::string::npos) << unsure;
}

TEST(Ranking, few_plants_leave_ties_and_many_part_them) {
  const auto few = ranking_of({{"A", {5}}, {"B", {4}}, {"C", {}}});
  ASSERT_EQ(few.size(), 2u);
  EXPECT_EQ(few[0].variety, "A");
  EXPECT_EQ(few[1].place, 1);  // not told apart by one plant each
  const auto many = ranking_of(
      {{"B", {3.9, 4.0, 4.1, 4.0}}, {"A", {4.9, 5.0, 4.8, 5.0}}, {"C", {4.0, 4.1, 3.9, 3.9}}});
  EXPECT_EQ(many[0].variety, "A");
  EXPECT_EQ(many[0].place, 1);
  EXPECT_EQ(many[1].place, 2);
  EXPECT_EQ(many[2].place, 2);  // a tie below the first
  EXPECT_TRUE(ranking_of({}).empty());
}

TEST(TakeKnowledge, says_what_it_rests_on) {
  const std::vector<PairingTally> all{{"A/R", {9, 10}}, {"B/R", {20, 25}}};
  EXPECT_EQ(take_knowledge(all, "A/R").source(), "from 10 grafts of it and 25 grafts of others");
  EXPECT_EQ(take_knowledge(all, "C/R").source(), "from 35 grafts of other pairings");
  EXPECT_TRUE(take_knowledge({}, "A/R").is_assumed());
  EXPECT_NEAR(take_knowledge({}, "A/R").belief.mean(), 0.802, 0.0005);  // the prior's own
}

TEST(Trial, every_tray_holds_both_ways_evenly_whatever_its_size) {
  for (const int cells : {1, 5, 6, 12}) {
    const auto laid = lay_out_trial(2, 9, cells, 7);
    ASSERT_EQ(laid.size(), 36u);
    int balance[2] = {0, 0}, tray_balance = 0, tray = 1;
    for (const TrialPlace& place : laid) {
      balance[place.pairing] += place.way == 0 ? 1 : -1;
      if (place.tray != tray) {
        EXPECT_LE(std::abs(tray_balance), 1) << cells;
        tray_balance = 0;
        tray = place.tray;
      }
      tray_balance += place.way == 0 ? 1 : -1;
      EXPECT_LE(place.place, cells);
    }
    EXPECT_EQ(balance[0], 0);
    EXPECT_EQ(balance[1], 0);
  }
}

TEST(ThingsToTry, the_better_of_two_rootstocks_comes_first_with_its_trial) {
  BatchFate good, bad;
  good.pairing = "A/Strong";
  bad.pairing = "A/Weak";
  good.scored = bad.scored = true;
  good.taken = 38, good.lost = 2;
  bad.taken = 20, bad.lost = 20;
  bad.losses = {{Cause::unknown, 3, 20}};
  const std::vector<BatchFate> batches{good, bad};
  const auto tries = things_to_try(batches, what_spoils(batches));
  ASSERT_FALSE(tries.empty());
  EXPECT_EQ(tries[0].what, "A/Strong in place of A/Weak");
  EXPECT_EQ(tries[0].other_pairing, "A/Strong");
  EXPECT_GT(tries[0].gain_per_100, 10);
  ASSERT_TRUE(tries[0].grafts_each);
  EXPECT_LT(*tries[0].grafts_each, 60);
  EXPECT_TRUE(things_to_try({}, {}).empty());
}

}  // namespace
}  // namespace takehold::client
