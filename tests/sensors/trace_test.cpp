// Hand-solvable traces, then seeded random ones against plain numerical integration.
#include "sensors/trace/trace.hpp"

#include <gtest/gtest.h>

#include <random>

namespace takehold::sensors {
namespace {

using std::chrono::seconds;

Instant at(double s) {
  return Instant(std::chrono::milliseconds(std::llround(s * 1000.0)));
}
TimeSpan span(double from, double to) {
  return {at(from), at(to)};
}

TEST(Decimate, means_are_weighted_by_time_not_by_samples) {
  // 10 for 90 s told by two samples, 20 for 9 s told by ten; one second between: (900+15+180)/100.
  std::vector<Sample> samples{{at(0), 10.0}, {at(90), 10.0}};
  for (int i = 0; i <= 9; ++i) samples.push_back({at(91 + i), 20.0});
  const auto buckets = decimate(samples, span(0, 100), 1, seconds(120));
  ASSERT_EQ(buckets.size(), 1u);
  EXPECT_NEAR(*buckets[0].mean, 10.95, 1e-9);
  EXPECT_EQ(*buckets[0].min, 10.0);
  EXPECT_EQ(*buckets[0].max, 20.0);
  EXPECT_EQ(buckets[0].observed, seconds(100));
}

TEST(Decimate, a_ramp_is_cut_at_the_borders) {
  const std::vector<Sample> samples{{at(0), 0.0}, {at(100), 100.0}};
  const auto buckets = decimate(samples, span(0, 100), 4, seconds(100));
  ASSERT_EQ(buckets.size(), 4u);
  for (int i = 0; i < 4; ++i) {
    EXPECT_NEAR(*buckets[i].mean, 12.5 + 25.0 * i, 1e-9);
    EXPECT_NEAR(*buckets[i].min, 25.0 * i, 1e-9);
    EXPECT_NEAR(*buckets[i].max, 25.0 * (i + 1), 1e-9);
  }
}

TEST(Decimate, a_gap_is_null_and_never_bridged) {
  const std::vector<Sample> samples{{at(0), 1.0}, {at(10), 1.0}, {at(40), 5.0}, {at(50), 5.0}};
  const auto buckets = decimate(samples, span(0, 50), 5, seconds(29));
  EXPECT_TRUE(buckets[0].mean.has_value());
  for (int i = 1; i <= 3; ++i) {
    EXPECT_EQ(buckets[i].observed, seconds(0));
  }
  EXPECT_FALSE(buckets[2].mean || buckets[2].min || buckets[2].max);
  EXPECT_FALSE(buckets[3].mean.has_value());
  EXPECT_EQ(*buckets[4].mean, 5.0);
  // One second more allowed, and the same distance is a line.
  EXPECT_NEAR(*decimate(samples, span(0, 50), 5, seconds(30))[2].mean, 1.0 + 4.0 * 0.5, 1e-9);
}

TEST(Decimate, a_reading_without_a_value_breaks_the_line) {
  const std::vector<Sample> samples{{at(0), 1.0}, {at(10), std::nullopt}, {at(20), 1.0}};
  EXPECT_EQ(decimate(samples, span(0, 20), 1, seconds(60))[0].observed, seconds(0));
}

TEST(Decimate, a_lone_sample_shows_without_observed_time) {
  const std::vector<Sample> samples{{at(15), 7.0}};
  const auto buckets = decimate(samples, span(0, 30), 3, seconds(5));
  EXPECT_FALSE(buckets[0].mean.has_value());
  EXPECT_EQ(*buckets[1].mean, 7.0);
  EXPECT_EQ(buckets[1].observed, seconds(0));
}

TEST(Decimate, the_end_of_the_span_is_outside_it) {
  const std::vector<Sample> samples{{at(30), 7.0}};
  const auto buckets = decimate(samples, span(0, 30), 1, seconds(5));
  EXPECT_FALSE(buckets[0].max.has_value());
}

TEST(Decimate, random_traces_keep_integral_and_extremes) {
  std::mt19937 dice(20270412);  // raw draws only, so the same on every machine
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<Sample> samples;
    double s = 0.0, integral = 0.0;
    for (int i = 0; i < 50; ++i) {
      samples.push_back({at(s), double(dice() % 1000)});
      if (i > 0) {
        integral += 0.5 * (*samples[i].value + *samples[i - 1].value) *
                    double((samples[i].at - samples[i - 1].at).count());
      }
      s += 1.0 + double(dice() % 20'000) / 1000.0;
    }
    const TimeSpan within{samples.front().at, samples.back().at};
    double rebuilt = 0.0;
    std::chrono::milliseconds observed{0};
    for (const auto& bucket : decimate(samples, within, 1 + int(dice() % 80), seconds(60))) {
      rebuilt += *bucket.mean * double(bucket.observed.count());
      observed += bucket.observed;
      EXPECT_LE(*bucket.min, *bucket.mean + 1e-9);
      EXPECT_GE(*bucket.max, *bucket.mean - 1e-9);
    }
    EXPECT_NEAR(rebuilt, integral, 1e-9 * integral);
    EXPECT_EQ(observed, within.to - within.from);
  }
}

TEST(Gaps, both_ends_and_every_long_pause) {
  const std::vector<Sample> samples{{at(10), 1.0}, {at(20), 1.0}, {at(60), 1.0}, {at(70), 1.0}};
  EXPECT_EQ(gaps(samples, span(0, 100), seconds(30)),
            (std::vector<TimeSpan>{span(0, 10), span(20, 60), span(70, 100)}));
  EXPECT_TRUE(gaps(samples, span(15, 65), seconds(40)).empty());
  EXPECT_EQ(gaps({}, span(0, 5), seconds(30)), (std::vector<TimeSpan>{span(0, 5)}));
}

TEST(Gaps, are_the_complement_of_what_buckets_observed) {
  const std::vector<Sample> samples{
      {at(3), 1.0},  {at(12), 2.0}, {at(50), 1.0}, {at(58), 4.0}, {at(58.5), std::nullopt},
      {at(80), 1.0}, {at(95), 1.0}};
  std::chrono::milliseconds missed{0}, observed{0};
  for (const auto& gap : gaps(samples, span(0, 100), seconds(20))) missed += gap.to - gap.from;
  for (const auto& bucket : decimate(samples, span(0, 100), 7, seconds(20))) {
    observed += bucket.observed;
  }
  EXPECT_EQ(missed + observed, seconds(100));
}

}  // namespace
}  // namespace takehold::sensors
