#include "client/forecast/forecast.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "client/forecast/best_day.hpp"
#include "tests/client/forecast/forecast_coverage.hpp"

namespace takehold::client {
namespace {

TEST(BestDay, is_the_middle_of_those_with_most_pairs_on_days_with_time) {
  const std::vector<std::uint16_t> pairs = {0, 2, 5, 5, 5, 3};
  EXPECT_EQ(best_day(pairs, std::vector<bool>(6, true)), 3);
  EXPECT_EQ(best_day(pairs, {true, true, false, false, true, true}), 4);
  EXPECT_FALSE(best_day(std::vector<std::uint16_t>(4), std::vector<bool>(4, true)));
}

TEST(BestDay, range_holds_most_nearly_eight_tenths) {
  const std::vector<double> even(10, 0.1);
  const DayRange range = day_range(even);
  EXPECT_EQ(range.p10, 1);
  EXPECT_EQ(range.p50, 4);
  EXPECT_EQ(range.p90, 8);
  const std::vector<double> sure = {0, 0, 0.05, 0.9, 0.05};
  EXPECT_EQ(day_range(sure).p10, 3);
  EXPECT_EQ(day_range(sure).p90, 3);
  const std::vector<double> weekends{0, 0, 0.29, 0.48, 0, 0.23};  // no day of no chance at its ends
  EXPECT_EQ(day_range(weekends).p10, 2);
  EXPECT_EQ(day_range(weekends).p90, 3);
}

// All seedlings known and nothing left to chance but the calliper: the day follows by arithmetic.
TEST(Forecast, stems_that_were_measured_match_when_they_are_equally_thick) {
  SeasonWorld world(5);
  const KnownSeason known = world.draw(300, 1);
  const PairingForecast told = forecast(known.request, {false}).front();
  ASSERT_TRUE(told.graft_on);
  double best = told.never;
  for (const DayOutlook& day : told.by_day) best += day.best;
  EXPECT_NEAR(best, 1, 1e-9);
  EXPECT_LE(told.graft_on->p10, told.graft_on->p50);
  EXPECT_LE(told.graft_on->p50, told.graft_on->p90);
  EXPECT_GE(told.matched_pairs.mean, told.matched_pairs.p10);
}

TEST(Forecast, the_same_request_gives_the_same_forecast_and_other_trays_change_nothing) {
  SeasonWorld world(6);
  const KnownSeason known = world.draw(200, 1);
  const PairingForecast one = forecast(known.request, {false}).front();
  ForecastRequest more = known.request;
  more.trays.push_back(more.trays.front());
  more.trays.back().id = "other";
  const PairingForecast two = forecast(more, {false}).front();
  EXPECT_EQ(one.graft_on->p50, two.graft_on->p50);
  EXPECT_EQ(one.matched_pairs.mean, two.matched_pairs.mean);
}

// Sixty seasons, so about one in twenty such tests of a forecast that holds 8 in 10 would leave
// 42..54; bench_forecast_coverage does the same over 500 and more.
TEST(Forecast, eight_best_days_in_ten_are_within_p10_and_p90) {
  const ForecastCoverage cover = cover_forecasts(4711, 60, 300);
  EXPECT_GE(cover.held, 41);
  EXPECT_LE(cover.held, 55);
  EXPECT_NEAR(cover.expected, 0.80, 0.03);  // what the forecasts say of themselves
}

TEST(Forecast, pairings_on_common_rootstocks_never_use_more_than_there_are) {
  SeasonWorld world(8);
  KnownSeason known = world.draw(200, 1);
  const double alone = forecast(known.request, {false}).front().matched_pairs.mean;
  ForecastPairing second = known.request.pairings.front();
  second.id = "P2";
  known.request.pairings.push_back(second);
  const auto both = forecast(known.request, {false});
  EXPECT_NEAR(both[0].matched_pairs.mean + both[1].matched_pairs.mean, alone, 0.35 * alone);
  EXPECT_LT(both[0].matched_pairs.mean, alone);
}

}  // namespace
}  // namespace takehold::client
