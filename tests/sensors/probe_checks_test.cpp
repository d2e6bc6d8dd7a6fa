#include "sensors/check/probe_checks.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "sensors/check/judge.hpp"

namespace takehold::sensors {
namespace {

using namespace std::chrono_literals;

const Instant kStart = parse_instant("2027-04-12T08:00:00Z").value();

struct Says {
  double degc, pct;
};
using Probe = std::function<std::optional<Says>(std::chrono::seconds)>;

/// A chamber that cycles by ±0.3 K in 10 minutes and ±1 point in 6, told with two decimals.
Says air(std::chrono::seconds t) {
  const double s = double(t.count());
  const auto two = [](double x) { return std::round(100.0 * x) / 100.0; };
  return {two(24.0 + 0.3 * std::sin(s / 95.5)), two(96.0 + std::sin(s / 57.3))};
}
Says shifted(Says says, double kelvin, double points) {
  return {says.degc + kelvin, says.pct + points};
}
std::optional<Says> right(std::chrono::seconds t) {
  return air(t);
}

/// Polls the probes every 10 s and tells when each finding first stood.
struct Watched {
  explicit Watched(std::vector<Probe> which) : probes(std::move(which)) {
    std::vector<CheckedProbe> settings;
    for (std::size_t i = 0; i < probes.size(); ++i) settings.push_back({name(i)});
    checks.emplace(settings);
  }
  static std::string name(std::size_t i) { return std::string(1, char('a' + i)); }

  Watched& until(std::chrono::seconds end) {
    for (; at <= end; at += 10s) {
      std::vector<Reading> readings;
      for (std::size_t i = 0; i < probes.size(); ++i) {
        Reading reading{name(i), kStart + at, {}, {}, Quality::good};
        if (const auto says = probes[i](at)) {
          reading.temperature = Celsius::degc(says->degc);
          reading.humidity = RelativeHumidity::pct(says->pct);
        }
        readings.push_back(judge(reading).reading);
      }
      last = checks->see(readings);
    }
    return *this;
  }
  std::string fault(std::size_t i) const {
    const auto& finding = checks->finding(name(i));
    return finding ? to_string(finding->fault) : "";
  }

  std::vector<Probe> probes;
  std::optional<ProbeChecks> checks;
  std::chrono::seconds at{0};
  std::vector<Reading> last;
};

TEST(ProbeChecks, healthy_probes_a_little_apart_are_trusted) {
  Watched run({right, [](auto t) { return shifted(air(t), 0.6, -2.5); }});
  run.until(4h);
  EXPECT_EQ(run.fault(0), "");
  EXPECT_EQ(run.fault(1), "");
  EXPECT_EQ(run.last[1].quality, Quality::good);
}

TEST(ProbeChecks, one_that_repeats_itself_is_stuck_while_another_moves) {
  Watched run({right, [](auto t) { return air(std::min<std::chrono::seconds>(t, 3600s)); }});
  EXPECT_EQ(run.until(3600s + 5min).fault(1), "");
  EXPECT_EQ(run.until(3600s + 7min).fault(1), "stuck");
  EXPECT_EQ(run.fault(0), "");
  EXPECT_EQ(run.last[1].quality, Quality::suspect);
  EXPECT_EQ(run.last[0].quality, Quality::good);
}

TEST(ProbeChecks, two_that_stand_still_together_are_not_stuck) {
  const Probe calm = [](auto) { return Says{21.5, 60.0}; };
  EXPECT_EQ(Watched({calm, calm}).until(8h).fault(0), "");
  EXPECT_EQ(Watched({calm}).until(11h).fault(0), "");
  EXPECT_EQ(Watched({calm}).until(12h + 1min).fault(0), "stuck");  // no air stands so still
}

TEST(ProbeChecks, a_coarse_probe_in_quiet_air_is_not_stuck) {
  // Whole degrees and whole percent: it tells 24 and 96 for long.
  const Probe coarse = [](auto t) {
    const auto says = air(t + 20s);
    return Says{std::round(says.degc), std::round(says.pct - 0.02)};
  };
  Watched run({right, coarse});
  for (int i = 1; i <= 12; ++i) EXPECT_EQ(run.until(i * 20min).fault(1), "") << i;
}

TEST(ProbeChecks, a_stuck_probe_that_moves_again_is_believed_again) {
  Watched run({right, [](auto t) { return t > 1h && t < 2h ? air(1h) : air(t); }});
  EXPECT_EQ(run.until(2h - 10s).fault(1), "stuck");
  EXPECT_EQ(run.until(2h + 60s).fault(1), "");
}

TEST(ProbeChecks, one_that_stands_at_100_is_wet_if_the_other_does_not) {
  Watched run({right, [](auto t) { return t < 1h ? air(t) : Says{air(t).degc, 100.0}; }});
  EXPECT_EQ(run.until(1h + 9min).fault(1), "");
  EXPECT_EQ(run.until(1h + 11min).fault(1), "wet");
  EXPECT_EQ(run.fault(0), "");
}

TEST(ProbeChecks, saturated_air_makes_no_probe_wet) {
  const auto soaked = [](double offset) {
    return [offset](std::chrono::seconds t) -> std::optional<Says> {
      const auto says = air(t);
      const double pct = t < 2h ? says.pct : 100.0;
      return Says{says.degc, std::min(100.0, pct + offset)};
    };
  };
  Watched run({soaked(1.5), soaked(-2.0)});  // known to differ by 3.5
  run.until(8h);
  EXPECT_EQ(run.fault(0), "");
  EXPECT_EQ(run.fault(1), "");
}

TEST(ProbeChecks, leaps_that_no_other_probe_follows_are_jumping) {
  const auto leaping = [](auto t) {
    const auto says = air(t);
    return t > 1h && t.count() / 10 % 6 == 0 ? shifted(says, 0.0, -18.0) : says;
  };
  EXPECT_EQ(Watched({right, leaping}).until(1h + 5min).fault(1), "jumping");
  EXPECT_EQ(Watched({right, leaping}).until(1h + 5min).fault(0), "");
  EXPECT_EQ(Watched({leaping}).until(1h + 5min).fault(0), "jumping");
}

/// Wide open for 2 minutes, back to the old air within some 10: T by -7 K, humidity by -45 points.
double opened(std::chrono::seconds since, double lag_s) {
  const double s = double(since.count());
  if (s < 0) return 0.0;
  const double reached = 1.0 - std::exp(-s / lag_s);
  return s < 120 ? reached : (1.0 - std::exp(-120 / lag_s)) * std::exp(-(s - 120) / (180 + lag_s));
}

TEST(ProbeChecks, an_opening_is_no_fault_though_one_probe_is_slower) {
  const auto probe = [](double lag_s) {
    return [lag_s](std::chrono::seconds t) -> std::optional<Says> {
      auto says = air(t);
      for (int i = 1; i <= 8; ++i) {
        const double share = opened(t - i * 1500s, lag_s);
        says = shifted(says, -7.0 * share, -45.0 * share);
      }
      return says;
    };
  };
  for (const double lag_s : {20.0, 60.0, 100.0}) {
    Watched run({probe(15.0), probe(lag_s)});
    while (run.at < 4h) {
      run.until(run.at);
      ASSERT_EQ(run.fault(0) + run.fault(1), "") << lag_s << " at " << run.at.count();
    }
    Watched alone({probe(15.0)});
    while (alone.at < 4h) ASSERT_EQ(alone.until(alone.at).fault(0), "") << alone.at.count();
  }
}

TEST(ProbeChecks, impossible_values_are_range_and_stay_bad) {
  Watched run({right, [](auto t) { return t < 1h ? air(t) : Says{130.0, 119.0}; }});
  EXPECT_EQ(run.until(1h).fault(1), "");
  EXPECT_EQ(run.until(1h + 20s).fault(1), "range");
  EXPECT_EQ(run.last[1].quality, Quality::bad);
}

TEST(ProbeChecks, two_that_disagree_are_both_suspect) {
  Watched run({right, [](auto t) { return shifted(air(t), 0.0, t < 1h ? 0.5 : -8.0); }});
  EXPECT_EQ(run.until(1h).fault(0), "");
  run.until(1h + 12min);
  EXPECT_EQ(run.fault(0), "disagrees");
  EXPECT_EQ(run.fault(1), "disagrees");
  EXPECT_EQ(run.last[0].quality, Quality::suspect);
  EXPECT_EQ(run.checks->finding("a")->against, std::vector<std::string>{"b"});
  EXPECT_NE(run.checks->finding("a")->reason.find("8.0 %"), std::string::npos)
      << run.checks->finding("a")->reason;
}

TEST(ProbeChecks, with_a_third_the_odd_one_out_is_named) {
  Watched run({right, [](auto t) { return shifted(air(t), 3.0, 0.0); },
               [](auto t) { return shifted(air(t), 0.3, 1.0); }});
  run.until(30min);
  EXPECT_EQ(run.fault(0), "");
  EXPECT_EQ(run.fault(1), "disagrees");
  EXPECT_EQ(run.fault(2), "");
}

TEST(ProbeChecks, a_warm_corner_of_one_water_is_no_disagreement) {
  // 1.2 K warmer air of the same water has 6.5 points less relative humidity.
  Watched run({right, [](auto t) { return shifted(air(t), 1.2, -6.5); }});
  EXPECT_EQ(run.until(4h).fault(1), "");
}

TEST(ProbeChecks, agreement_or_silence_ends_a_disagreement) {
  Watched run({right, [](auto t) { return shifted(air(t), 0.0, t < 1h ? -8.0 : 0.0); }});
  EXPECT_EQ(run.until(1h).fault(0), "disagrees");
  EXPECT_EQ(run.until(1h + 10min).fault(0), "");
  Watched silent({right, [](auto t) -> std::optional<Says> {
                    if (t > 1h) return std::nullopt;
                    return shifted(air(t), 0.0, -8.0);
                  }});
  EXPECT_EQ(silent.until(1h).fault(0), "disagrees");
  EXPECT_EQ(silent.until(1h + 20min).fault(0), "");
}

TEST(ProbeChecks, probes_of_different_places_are_not_compared) {
  ProbeChecks checks({{"a", "chamber"}, {"b", "warm bench"}});
  for (auto t = 0s; t < 3h; t += 10s) {
    const Reading a{"a", kStart + t, Celsius::degc(air(t).degc), RelativeHumidity::pct(96), {}};
    const Reading b{"b", kStart + t, Celsius::degc(air(t).degc - 9), RelativeHumidity::pct(55), {}};
    const std::vector<Reading> round{a, b};
    checks.see(round);
  }
  EXPECT_FALSE(checks.finding("a"));
  EXPECT_FALSE(checks.finding("b"));
}

}  // namespace
}  // namespace takehold::sensors
