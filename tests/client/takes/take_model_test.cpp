#include "client/takes/take_model.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "client/takes/table.hpp"
#include "reference.hpp"
#include "sensors/quantity/problem.hpp"
#include "simulated_books.hpp"

namespace takehold::client {
namespace {

std::vector<Tally> rat_tumours() {
  const auto rats = stats_reference().at("rats");
  std::vector<Tally> tallies;
  for (const auto& group : rats.at("data")) {
    tallies.push_back({group.at(0).get<int>(), group.at(1).get<int>()});
  }
  tallies.push_back({rats.at("current").at(0).get<int>(), rats.at("current").at(1).get<int>()});
  return tallies;
}

// Tarone 1982; Gelman et al., Bayesian Data Analysis, ch. 5, with the published hyperprior.
TEST(TakeModel, rat_tumours_with_the_published_hyperprior) {
  const auto rats = stats_reference().at("rats");
  const auto tallies = rat_tumours();
  ASSERT_EQ(tallies.size(), 71u);
  const TakeModel model(tallies, {.kind = TakePrior::Kind::published});
  const auto& means = rats.at("hyperposterior_mean_71");
  EXPECT_NEAR(model.mean_a(), means.at(0).get<double>(), 0.005);
  EXPECT_NEAR(model.mean_b(), means.at(1).get<double>(), 0.005);
  EXPECT_NEAR(model.belief(tallies.back()).mean(), rats.at("theta71_posterior_mean").get<double>(),
              5e-5);
}

TEST(TakeModel, rat_tumours_hardly_depend_on_the_hyperprior) {
  const auto tallies = rat_tumours();
  EXPECT_NEAR(TakeModel(tallies).belief(tallies.back()).mean(), 0.212, 0.0005);
}

// Efron & Morris 1975 (J. Amer. Statist. Assoc. 70:311): eighteen batters after 45 times at bat,
// and the averages of the rest of the season (from memory, confirmed by their known squared
// errors). Drawn together by Stein's rule the squared error falls from .0753 to .0213; our model,
// which knows of binomials, must do as well as that rule.
TEST(TakeModel, efron_morris_batters_are_drawn_together) {
  const auto batters = stats_reference().at("efron_morris");
  constexpr double kRest[] = {.346, .298, .276, .222, .273, .270, .263, .210, .269,
                              .230, .264, .256, .303, .264, .226, .286, .316, .200};
  std::vector<Tally> tallies;
  double scatter = 0;
  const double mean = batters.at("ybar").get<double>();
  for (const auto& hits : batters.at("hits")) {
    tallies.push_back({hits.get<int>(), batters.at("n").get<int>()});
    scatter += std::pow(hits.get<double>() / 45 - mean, 2);
  }
  const double stein = 1 - 15 * mean * (1 - mean) / 45 / scatter;
  EXPECT_NEAR(stein, batters.at("shrink").get<double>(), 1e-8);
  const TakeModel model(tallies, {.kind = TakePrior::Kind::published});
  double raw = 0, ruled = 0, ours = 0;
  for (std::size_t i = 0; i < tallies.size(); ++i) {
    const double rate = tallies[i].yes / 45.0;
    raw += std::pow(rate - kRest[i], 2);
    ruled += std::pow(mean + stein * (rate - mean) - kRest[i], 2);
    ours += std::pow(model.belief(tallies[i]).mean() - kRest[i], 2);
  }
  EXPECT_NEAR(raw, 0.0753, 5e-4);
  EXPECT_NEAR(ruled, 0.0213, 5e-4);
  EXPECT_LT(ours, 0.0225);
}

// An independent prototype of the same model gave these to three digits.
TEST(TakeModel, few_grafts_lean_on_the_prior_and_many_do_not) {
  const auto alone = [](Tally tally) {
    return TakeModel(std::vector<Tally>{tally}).belief(tally).mean();
  };
  EXPECT_NEAR(alone({3, 3}), 0.847, 0.0005);
  EXPECT_NEAR(alone({0, 5}), 0.504, 0.0005);
  EXPECT_NEAR(alone({45, 50}), 0.882, 0.0005);
  const TakeBelief nothing = TakeModel({}).belief_untried();
  EXPECT_NEAR(nothing.mean(), 0.802, 0.0005);
  EXPECT_NEAR(nothing.sd(), 0.121, 0.0005);
}

TEST(TakeModel, ten_thousand_grafts_are_resolved_as_sharply_as_they_were_seen) {
  const std::vector<Tally> tallies(12, Tally{9000, 10000});
  const TakeBelief belief = TakeModel(tallies).belief(tallies[0]);
  EXPECT_NEAR(belief.mean(), 0.9, 1e-3);
  EXPECT_NEAR(belief.sd(), std::sqrt(0.09 / 10000), 2e-4);
}

TEST(TakeModel, quantiles_bound_what_they_say) {
  const TakeBelief one(Chance{2, 1});  // P(p < x) = x^2
  EXPECT_NEAR(one.quantile(0.05), std::sqrt(0.05), 1e-8);
  const TakeBelief two({{0.5, {2, 1}}, {0.5, {1, 1}}});  // (x^2 + x) / 2
  EXPECT_NEAR(two.quantile(0.375), 0.5, 1e-8);
  EXPECT_NEAR(two.mean(), 0.5 * 2 / 3 + 0.25, 1e-12);
}

TEST(TakeModel, better_is_a_probability_that_adds_up) {
  const std::vector<Tally> tallies{{46, 50}, {38, 50}};
  const TakeModel model(tallies);
  const double a = model.probability_better(tallies[0], tallies[1]);
  EXPECT_NEAR(a + model.probability_better(tallies[1], tallies[0]), 1.0, 1e-9);
  EXPECT_NEAR(model.probability_better(tallies[0], tallies[0]), 0.5, 1e-9);
  EXPECT_GT(a, 0.9);
  EXPECT_LT(a, 0.999);
}

// Books drawn from the very prior: then 90 % intervals hold the truth 90 times in 100, be the
// grafts few or many. 1000 books are run by tests/bench/take_coverage.
TEST(TakeModel, intervals_hold_the_truth_nine_times_in_ten) {
  const Coverage found = coverage_of_books(150, 20270412);
  ASSERT_GT(found.intervals, 900);
  EXPECT_GE(found.share(), 0.88);
  EXPECT_LE(found.share(), 0.92);
  EXPECT_NEAR(found.below_middle, 0.5, 0.05);
}

TEST(TakeTable, rows_hold_counts_beliefs_and_intervals) {
  const std::vector<PairingTally> pairings{{"P1", {45, 50}}, {"P2", {0, 0}}};
  const auto rows = take_rows(pairings);
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].pairing, "P1");
  EXPECT_DOUBLE_EQ(*rows[0].rate, 0.9);
  EXPECT_NEAR(rows[0].mean, 0.882, 0.0005);
  EXPECT_NEAR(rows[0].wilson_low, 0.786398, 5e-7);
  EXPECT_LT(rows[0].p05, rows[0].mean);
  EXPECT_GT(rows[0].p95, rows[0].mean);
  EXPECT_FALSE(rows[1].rate);
  EXPECT_GT(rows[1].mean, prior_row().mean);  // it learns from its neighbour
  EXPECT_NEAR(prior_row().mean, 0.802, 0.0005);
}

TEST(TakeTable, impossible_counts_are_refused_by_name) {
  const std::vector<PairingTally> pairings{{"P1", {6, 5}}};
  try {
    take_rows(pairings);
    FAIL() << "6 of 5 was accepted";
  } catch (const sensors::Refused& refused) {
    EXPECT_EQ(refused.problem().code, "bad-count");
    EXPECT_EQ(refused.problem().where, "P1");
  }
}

// R 4.2.2: power.prop.test(p1 = .92, p2 = .76, power = .9), n = 108.23554 (strict = FALSE).
TEST(TakeTable, grafts_needed_agree_with_power_prop_test) {
  EXPECT_NEAR(trials_needed_each(0.92, 0.76), 108.23554, 1e-3);
  const std::vector<PairingTally> pairings{
      {"P1", {46, 50}}, {"P2", {38, 50}}, {"P3", {9, 10}}, {"P4", {0, 0}}};
  const Comparison found = compare_takes(pairings, 0, 1);
  EXPECT_EQ(found.more_needed_each, static_cast<int>(std::ceil(108.23554)) - 50);
  EXPECT_NEAR(found.fisher_p, 0.0537648, 5e-8);
  EXPECT_FALSE(compare_takes(pairings, 0, 3).more_needed_each);
  EXPECT_FALSE(compare_takes(pairings, 2, 2).more_needed_each);
}

}  // namespace
}  // namespace takehold::client
