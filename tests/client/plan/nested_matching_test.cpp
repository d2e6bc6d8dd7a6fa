#include "client/plan/nested_matching.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "client/match/matching.hpp"
#include "planned_pair.hpp"

namespace takehold::client {
namespace {

struct Sown {
  std::vector<NestedStem> stems;  // thinnest first
  int seeds;

  std::vector<Micrometres> among_first(int n) const {
    std::vector<Micrometres> um;
    for (const NestedStem stem : stems) {
      if (stem.from <= n) um.push_back(stem.um);
    }
    return um;
  }
};

// Some are there always; of the seeds that come one by one some make no stem.
Sown some_stems(std::mt19937& random, int most_seeds, int spread_um) {
  Sown sown{{}, static_cast<int>(random() % static_cast<unsigned>(most_seeds + 1))};
  const auto um = [&] {
    return static_cast<std::uint16_t>(1900 + random() % static_cast<unsigned>(spread_um));
  };
  for (unsigned always = random() % 4; always > 0; --always) sown.stems.push_back({um(), 0});
  for (int from = 1; from <= sown.seeds; ++from) {
    if (random() % 5 != 0) sown.stems.push_back({um(), static_cast<std::uint8_t>(from)});
  }
  std::sort(sown.stems.begin(), sown.stems.end(),
            [](NestedStem a, NestedStem b) { return a.um < b.um; });
  return sown;
}

int pairs_at(const NestedMatching& matching, int rootstocks, int scions) {
  int pairs = matching.always();
  for (const PairEntry entry : matching.entries()) {
    pairs += entry.rootstock <= rootstocks && entry.scion <= scions ? 1 : 0;
  }
  return pairs;
}

void expect_every_count_as_matched(std::mt19937& random, const Tolerance& tolerance, int most_seeds,
                                   int spread_um) {
  const MatchCounter counter(tolerance, 2600);
  NestedMatching matching(counter);
  const Sown below = some_stems(random, most_seeds, spread_um);
  const Sown above = some_stems(random, most_seeds, spread_um);
  matching.match(below.stems, above.stems);
  for (int r = 0; r <= below.seeds; ++r) {
    for (int s = 0; s <= above.seeds; ++s) {
      const auto made = count_matches(below.among_first(r), above.among_first(s), tolerance);
      ASSERT_EQ(pairs_at(matching, r, s), static_cast<int>(made)) << r << " " << s;
    }
  }
}

// count_matches is itself held against every matching in matching_test.
TEST(NestedMatching, tells_every_pair_of_counts_as_the_matching_of_those_stems_does) {
  std::mt19937 random(11);
  const Tolerance tolerances[] = {Tolerance::percent_of_mean(10),
                                  Tolerance::percent_of_mean(2),
                                  Tolerance::percent_of_mean(0),
                                  Tolerance::unlimited(),
                                  Tolerance::absolute(sensors::Millimetres::mm(0.04)),
                                  Tolerance::percent_of_mean(10).with_rootstock_thinner_by_at_most(
                                      sensors::Millimetres::mm(0.02))};
  for (const Tolerance& tolerance : tolerances) {
    for (int round = 0; round < 800; ++round) {
      expect_every_count_as_matched(random, tolerance, 9, 5 + static_cast<int>(random() % 400));
    }
    expect_every_count_as_matched(random, tolerance, CountWindow::kWidest, 500);
  }
}

TEST(NestedSeasons, look_up_what_each_day_s_entries_add_up_to_on_the_best_day) {
  std::mt19937 random(12);
  const MatchCounter counter = within_percent(4);
  NestedMatching matching(counter);
  const CountWindow window{{5, 70}, {5 + CountWindow::kWidest, 70 + CountWindow::kWidest}};
  constexpr int kSeasons = 40, kDays = 3;
  NestedSeasons seasons(window, kDays);
  std::vector<NestedMatching> days;
  for (int i = 0; i < kSeasons * kDays; ++i) {
    matching.match(some_stems(random, CountWindow::kWidest, 500).stems,
                   some_stems(random, CountWindow::kWidest, 500).stems);
    seasons.add(matching);
    days.push_back(matching);
  }
  for (int season = 0; season < kSeasons; ++season) {
    for (int round = 0; round < 60; ++round) {
      const int r = static_cast<int>(random() % 127), s = static_cast<int>(random() % 127);
      int best = 0;
      for (int day = 0; day < kDays; ++day) {
        best = std::max(best, pairs_at(days[static_cast<std::size_t>(season * kDays + day)], r, s));
      }
      EXPECT_EQ(seasons.best_of(season, {5 + r, 70 + s}), best);
    }
  }
}

}  // namespace
}  // namespace takehold::client
