#include "client/match/matching.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <tuple>

#include "embedded/places.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

using sensors::Millimetres;
using Stems = std::vector<Micrometres>;

// Cases made with scipy's assignment solver and networkx; see the file's "meta".
nlohmann::json reference_cases() {
  std::ifstream file(TAKEHOLD_SOURCE_DIR "/tests/reference/matching_cases.json");
  return nlohmann::json::parse(file).at("cases");
}

Stems stems_of(const nlohmann::json& hundredths) {
  Stems stems;
  for (const auto& value : hundredths) stems.push_back(value.get<Micrometres>() * 10);
  return stems;
}

// (pairs, -mismatch, pairs of one clip): larger is better, in this order.
using Score = std::tuple<std::size_t, Micrometres, std::size_t>;

Score score_of(const Matching& matching, const Stems& x, const Stems& y) {
  Score score{0, 0, 0};
  for (const StemPair& pair : matching.pairs) {
    ++std::get<0>(score);
    std::get<1>(score) -= std::abs(x[pair.rootstock] - y[pair.scion]);
    std::get<2>(score) += clip_size(x[pair.rootstock]) == clip_size(y[pair.scion]) ? 1 : 0;
  }
  return score;
}

// The best of all non-crossing matchings of two sorted lists, by trying every one.
Score best_by_trying(const Stems& x, const Stems& y, const Tolerance& tolerance, std::size_t i,
                     std::size_t j) {
  if (i == x.size() || j == y.size()) return {0, 0, 0};
  Score best = std::max(best_by_trying(x, y, tolerance, i + 1, j),
                        best_by_trying(x, y, tolerance, i, j + 1));
  if (!tolerance.allows(x[i], y[j])) return best;
  auto [pairs, mismatch, clips] = best_by_trying(x, y, tolerance, i + 1, j + 1);
  return std::max(best, Score{pairs + 1, mismatch - std::abs(x[i] - y[j]),
                              clips + (clip_size(x[i]) == clip_size(y[j]) ? 1 : 0)});
}

Stems random_stems(std::mt19937& random, std::size_t most, Micrometres low, Micrometres high) {
  Stems stems(random() % (most + 1));
  for (auto& um : stems) um = low + static_cast<Micrometres>(random() % (high - low + 1));
  return stems;
}

void expect_sound(const Matching& matching, const Stems& x, const Stems& y,
                  const Tolerance& tolerance) {
  std::vector<int> x_seen(x.size()), y_seen(y.size());
  Micrometres total = 0;
  for (const StemPair& pair : matching.pairs) {
    ++x_seen.at(pair.rootstock);
    ++y_seen.at(pair.scion);
    EXPECT_EQ(pair.mismatch, std::abs(x[pair.rootstock] - y[pair.scion]));
    EXPECT_TRUE(tolerance.allows(x[pair.rootstock], y[pair.scion]));
    total += pair.mismatch;
  }
  for (const std::size_t i : matching.rootstocks_left_over) ++x_seen.at(i);
  for (const std::size_t j : matching.scions_left_over) ++y_seen.at(j);
  EXPECT_EQ(total, matching.mismatch_total);
  EXPECT_TRUE(std::all_of(x_seen.begin(), x_seen.end(), [](int n) { return n == 1; }));
  EXPECT_TRUE(std::all_of(y_seen.begin(), y_seen.end(), [](int n) { return n == 1; }));
}

TEST(Matching, agrees_with_every_reference_case) {
  const auto cases = reference_cases();
  ASSERT_EQ(cases.size(), 7u);
  for (const auto& item : cases) {
    SCOPED_TRACE(item.at("name").get<std::string>());
    const Stems x = stems_of(item.at("x"));
    const Stems y = stems_of(item.at("y"));
    const auto tolerance = Tolerance::absolute(Millimetres::mm(item.at("tol").get<int>() / 100.0));
    const Matching matching = match_stems(x, y, tolerance);
    EXPECT_EQ(matching.count(), item.at("optimum_count").get<std::size_t>());
    EXPECT_EQ(matching.mismatch_total, item.at("min_total_mismatch").get<Micrometres>() * 10);
    EXPECT_EQ(count_matches(x, y, tolerance), item.at("optimum_count").get<std::size_t>());
    expect_sound(matching, x, y, tolerance);
  }
}

TEST(Matching, limits_are_inclusive_in_whole_micrometres) {
  const auto absolute = Tolerance::absolute(Millimetres::mm(0.2));
  EXPECT_TRUE(absolute.allows(2200, 2000));  // 2.2 - 2.0 <= 0.2 is false in doubles
  EXPECT_FALSE(absolute.allows(2201, 2000));
  const auto tenth = Tolerance::percent_of_mean(10);
  EXPECT_TRUE(tenth.allows(2100, 1900));  // 20 * 200 = 2100 + 1900
  EXPECT_FALSE(tenth.allows(2101, 1900));
  EXPECT_TRUE(Tolerance::percent_of_mean(12.5).allows(1700, 1500));  // 200 <= 12.5 % of 1600
  EXPECT_FALSE(Tolerance::percent_of_mean(12.499).allows(1700, 1500));
  EXPECT_TRUE(Tolerance::unlimited().allows(0, 9000));
}

TEST(Matching, thicker_goes_below_when_asked) {
  const auto tolerance = Tolerance::absolute(Millimetres::mm(0.3));
  const auto thicker_below = tolerance.with_rootstock_thinner_by_at_most(Millimetres::mm(0.05));
  EXPECT_TRUE(thicker_below.allows(2300, 2000));
  EXPECT_TRUE(thicker_below.allows(2000, 2050));
  EXPECT_FALSE(thicker_below.allows(2000, 2051));
  EXPECT_EQ(match_stems(Stems{2000}, Stems{2100}, tolerance).count(), 1u);
  EXPECT_EQ(match_stems(Stems{2000}, Stems{2100}, thicker_below).count(), 0u);
}

TEST(Matching, indices_are_places_in_the_lists_as_given) {
  const Matching matching = match_stems(Stems{2500, 1500, 2000}, Stems{2010, 2490},
                                        Tolerance::absolute(Millimetres::mm(0.1)));
  EXPECT_EQ(matching.pairs, (std::vector<StemPair>{{0, 1, 10}, {2, 0, 10}}));
  EXPECT_EQ(matching.rootstocks_left_over, std::vector<std::size_t>{1});
  EXPECT_TRUE(matching.scions_left_over.empty());
}

TEST(Matching, among_equals_pairs_share_a_clip) {
  // 1760 may go with 1740 or with 1780, 20 µm each; only the second fits the same clip.
  const Matching matching =
      match_stems(Stems{1760}, Stems{1740, 1780}, Tolerance::absolute(Millimetres::mm(0.1)));
  EXPECT_EQ(matching.pairs, (std::vector<StemPair>{{0, 1, 20}}));
}

TEST(Matching, empty_lists_match_nothing) {
  const Matching matching = match_stems({}, Stems{2000}, Tolerance::unlimited());
  EXPECT_EQ(matching.count(), 0u);
  EXPECT_EQ(matching.scions_left_over.size(), 1u);
}

TEST(Matching, impossible_diameters_are_refused) {
  EXPECT_THROW(match_stems(Stems{-1}, Stems{2000}, Tolerance::unlimited()), sensors::Refused);
  EXPECT_THROW(match_stems(Stems{1'000'001}, Stems{2000}, Tolerance::unlimited()),
               sensors::Refused);
  EXPECT_THROW(match_stems(Stems(kMostStems + 1, 2000), {}, Tolerance::unlimited()),
               sensors::Refused);
}

TEST(Matching, no_other_matching_is_better_in_small_random_cases) {
  std::mt19937 random(20270412);
  for (int round = 0; round < 1500; ++round) {
    SCOPED_TRACE(round);
    Stems x = random_stems(random, 7, 1600, 1600 + 40 * (1 + round % 20));
    Stems y = random_stems(random, 7, 1600, 1600 + 40 * (1 + round % 20));
    Tolerance tolerance = round % 2 == 0 ? Tolerance::absolute(Millimetres::um(round % 150))
                                         : Tolerance::percent_of_mean((round % 80) / 10.0);
    if (round % 3 == 0)
      tolerance = tolerance.with_rootstock_thinner_by_at_most(Millimetres::um(round % 40));
    const Matching matching = match_stems(x, y, tolerance);
    expect_sound(matching, x, y, tolerance);
    const Score found = score_of(matching, x, y);
    std::sort(x.begin(), x.end());
    std::sort(y.begin(), y.end());
    EXPECT_EQ(found, best_by_trying(x, y, tolerance, 0, 0));
    EXPECT_EQ(count_matches(x, y, tolerance), matching.count());
  }
}

TEST(Matching, two_thousand_a_side_take_well_under_a_second) {
  std::mt19937 random(7);
  Stems x(2000), y(2000);
  for (auto& um : x) um = 1500 + static_cast<Micrometres>(random() % 1100);
  for (auto& um : y) um = 1500 + static_cast<Micrometres>(random() % 1100);
  const auto start = std::chrono::steady_clock::now();
  const Matching matching = match_stems(x, y, Tolerance::percent_of_mean(10));
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
  RecordProperty("milliseconds", std::to_string(took.count()));
  EXPECT_LT(took.count(), 700.0);  // "well under a second" even without optimisation
  EXPECT_GT(matching.count(), 1900u);
}

}  // namespace
}  // namespace takehold::client
