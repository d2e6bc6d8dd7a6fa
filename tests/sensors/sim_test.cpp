// The simulated chamber: its balances against physics worked by hand, its faults by their mark.
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "sensors/air/psychrometrics.hpp"
#include "sensors/sim/scene.hpp"

namespace takehold::sensors {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

const Instant kStart = parse_instant("2027-04-12T00:00:00Z").value();

struct Watched {
  std::vector<double> degc, pct, g_per_m3;
};

/// The chamber's own air every ten seconds.
Watched watch(SceneSettings settings, seconds from, seconds to) {
  settings.start = kStart;
  Scene scene(settings);
  Watched watched;
  for (seconds at = from; at < to; at += seconds(10)) {
    scene.advance_to(kStart + at);
    const auto& chamber = scene.chamber();
    watched.degc.push_back(chamber.temperature().degc());
    watched.pct.push_back(chamber.humidity().pct());
    watched.g_per_m3.push_back(
        absolute_humidity(chamber.temperature(),
                          vapour_pressure(chamber.temperature(), chamber.humidity()))
            .g_per_m3());
  }
  return watched;
}

double least(const std::vector<double>& v) {
  return *std::min_element(v.begin(), v.end());
}
double most(const std::vector<double>& v) {
  return *std::max_element(v.begin(), v.end());
}
double mean(const std::vector<double>& v) {
  return std::accumulate(v.begin(), v.end(), 0.0) / double(v.size());
}

SceneSettings with_fault(const char* text) {
  SceneSettings settings;
  settings.probes = 2;
  settings.start = kStart;
  settings.faults.push_back(parse_fault(text).value());
  return settings;
}

TEST(Chamber, without_heater_and_water_it_becomes_the_room) {
  // The only steady state of both balances: the room's 16 degC; trays of wet soil give water off at
  // 0.15 m3/h, the room takes it at 0.4 · 0.25 = 0.1 m3/h: w = (0.15 ws + 0.1 · 8.6) / 0.25.
  SceneSettings settings;
  settings.chamber.room.day = settings.chamber.room.night;
  settings.faults = {parse_fault("cold@0").value(), parse_fault("dry@0").value()};
  const auto end = watch(settings, hours(48), hours(48) + seconds(20));
  EXPECT_NEAR(end.degc.back(), 16.0, 0.01);
  const double saturated = 13.63;  // g/m3 at 16 degC, of printed tables (from memory)
  EXPECT_NEAR(end.g_per_m3.back(), (0.15 * saturated + 0.1 * 8.6) / 0.25, 0.03);
}

TEST(Chamber, the_heater_gives_on_average_what_the_walls_lose) {
  // Held at 25 against 16 degC: 2.5 W/K · 9 K, and the mist's heat beside: 12 g/h · 2450 J/g at
  // most.
  SceneSettings settings;
  settings.chamber.room.day = settings.chamber.room.night;
  settings.start = kStart;
  Scene scene(settings);
  scene.advance_to(kStart + hours(12));
  int heated = 0, misted = 0;
  constexpr int kSeconds = 6 * 3600;
  for (int s = 1; s <= kSeconds; ++s) {
    scene.advance_to(kStart + hours(12) + seconds(s));
    heated += scene.chamber().is_heating();
    misted += scene.chamber().is_humidifying();
  }
  const double heater_w = 45.0 * heated / kSeconds;
  const double mist_w = 12.0 / 3600.0 * 2450.0 * misted / kSeconds;
  const double air_w = 0.4 / 3600.0 * 0.25 * 1200.0 * 9.0;
  EXPECT_NEAR(heater_w, 2.5 * 9.0 + mist_w + air_w, 0.5);
}

TEST(Chamber, left_alone_it_stays_around_its_set_points_and_cycles) {
  const auto day = watch({}, hours(1), hours(25));
  EXPECT_GT(least(day.degc), 24.5);
  EXPECT_LT(most(day.degc), 25.5);
  EXPECT_GT(least(day.pct), 95.0);
  EXPECT_LT(most(day.pct), 99.9);
  EXPECT_GT(most(day.pct) - least(day.pct), 1.5);
}

TEST(Chamber, air_never_holds_more_than_it_can) {
  const auto soaked = watch(with_fault("soak@0"), seconds(10), hours(3));
  EXPECT_LE(most(soaked.pct), 100.0 + 1e-9);
  EXPECT_GT(soaked.pct.back(), 99.9);
}

TEST(Chamber, an_open_door_lets_warmth_and_water_out_and_it_recovers) {
  const auto settings = with_fault("door@3600+120");
  const auto before = watch(settings, minutes(50), minutes(60));
  const auto during = watch(settings, minutes(61) + seconds(30), minutes(62));
  const auto after = watch(settings, minutes(90), minutes(100));
  EXPECT_LT(least(during.degc), mean(before.degc) - 0.5);
  EXPECT_LT(least(during.g_per_m3), mean(before.g_per_m3) - 5.0);
  EXPECT_NEAR(mean(after.pct), mean(before.pct), 1.0);
}

TEST(Chamber, without_water_it_dries_while_it_stays_warm) {
  const auto settings = with_fault("dry@3600");
  const auto late = watch(settings, hours(3), hours(4));
  EXPECT_LT(most(late.pct), 92.0);
  EXPECT_NEAR(mean(late.degc), 25.0, 0.3);
}

TEST(Chamber, each_other_fault_moves_the_air_its_own_way) {
  const auto usual = watch({}, hours(2), hours(3));
  const auto ajar = watch(with_fault("ajar@3600"), hours(2), hours(3));
  const auto leak = watch(with_fault("leak@3600"), hours(2), hours(3));
  EXPECT_LT(mean(ajar.pct), mean(leak.pct) - 2.0);
  EXPECT_LT(mean(leak.pct), mean(usual.pct) - 2.0);
  EXPECT_LT(mean(watch(with_fault("cold@3600"), hours(2), hours(3)).degc), 23.0);
  EXPECT_GT(mean(watch(with_fault("hot@3600"), hours(2), hours(3)).degc), 27.0);
  const auto mist = watch(with_fault("mist@3600"), minutes(60), minutes(62));
  EXPECT_GT(most(mist.pct), most(usual.pct));
}

TEST(Chamber, the_room_is_warmer_by_day) {
  SceneSettings settings;
  settings.start = kStart;
  Scene scene(settings);
  scene.advance_to(kStart + hours(6));
  const auto night = scene.chamber().room_temperature();
  scene.advance_to(kStart + hours(18));
  EXPECT_GT((scene.chamber().room_temperature() - night).kelvin(), 3.5);
}

TEST(Scene, the_same_seed_says_the_same_whenever_it_is_asked) {
  SceneSettings settings;
  settings.start = kStart;
  settings.seed = 7;
  Scene once(settings), often(settings);
  for (int s = 0; s <= 600; s += 7) {
    often.advance_to(kStart + seconds(s));
    static_cast<void>(often.says(0));
  }
  once.advance_to(kStart + seconds(600));
  often.advance_to(kStart + seconds(600));
  EXPECT_EQ(once.says(0)->humidity, often.says(0)->humidity);
  settings.seed = 8;
  Scene other(settings);
  other.advance_to(kStart + seconds(600));
  EXPECT_NE(once.says(0)->humidity, other.says(0)->humidity);
}

TEST(Scene, probes_agree_within_their_making_and_lag_behind) {
  auto settings = with_fault("door@3600+60");
  Scene scene(settings);
  scene.advance_to(kStart + minutes(50));
  EXPECT_NEAR(scene.says(0)->temperature->degc(), scene.says(1)->temperature->degc(), 1.0);
  EXPECT_NEAR(scene.says(0)->humidity->pct(), scene.says(1)->humidity->pct(), 4.0);
  scene.advance_to(kStart + minutes(60) + seconds(20));
  EXPECT_GT(scene.says(0)->humidity->pct(), scene.chamber().humidity().pct() + 3.0);
}

TEST(Scene, a_probes_faults_are_its_own) {
  Scene silent(with_fault("silent@60+60:2"));
  silent.advance_to(kStart + seconds(90));
  EXPECT_TRUE(silent.says(0).has_value());
  EXPECT_FALSE(silent.says(1).has_value());
  silent.advance_to(kStart + seconds(120));
  EXPECT_TRUE(silent.says(1).has_value());

  Scene stuck(with_fault("stuck@60"));
  stuck.advance_to(kStart + seconds(60));
  const auto first = stuck.says(0);
  const auto other = stuck.says(1);
  stuck.advance_to(kStart + seconds(200));
  EXPECT_EQ(stuck.says(0)->humidity, first->humidity);
  EXPECT_NE(stuck.says(1)->humidity, other->humidity);

  Scene wet(with_fault("wet@60:1"));
  wet.advance_to(kStart + seconds(90));
  EXPECT_EQ(wet.says(0)->humidity->pct(), 100.0);
}

TEST(Fault, what_is_written_is_what_is_meant) {
  const auto ajar = parse_fault("ajar@600+900").value();
  EXPECT_EQ(ajar.kind, FaultKind::ajar);
  EXPECT_FALSE(ajar.is_on(seconds(599)));
  EXPECT_TRUE(ajar.is_on(seconds(600)));
  EXPECT_TRUE(ajar.is_on(seconds(1499)));
  EXPECT_FALSE(ajar.is_on(seconds(1500)));
  EXPECT_EQ(parse_fault("silent@30:2").value().probe, 2);
  EXPECT_TRUE(parse_fault("dry@0").value().is_on(hours(1000)));
  EXPECT_FALSE(parse_fault("door@0").value().is_on(seconds(120)));
}

TEST(Fault, what_cannot_be_read_is_refused) {
  for (const char* text : {"", "door", "door@", "door@-1", "door@1x", "flood@1", "door@1+",
                           "door@1:2", "silent@1:0", "@5", "door@99999999999"}) {
    const auto fault = parse_fault(text);
    ASSERT_FALSE(fault.has_value()) << text;
    EXPECT_EQ(fault.error().code, "bad-fault");
  }
}

TEST(Scene, settings_that_make_no_sense_are_refused) {
  EXPECT_TRUE(check(SceneSettings{}).has_value());
  SceneSettings settings;
  settings.chamber.set_humidity = RelativeHumidity::pct(120.0);
  EXPECT_EQ(check(settings).error().code, "bad-set-point");
  EXPECT_EQ(check(with_fault("silent@1:3")).error().code, "no-probe");
}

TEST(Scene, a_chamber_that_is_opened_follows_its_set_point_evenly) {
  SceneSettings settings;
  settings.opening = parse_opening("77.5@3600+72000").value();  // 97.5 less 1 % an hour
  Scene scene(settings);
  const auto humidity_after = [&](int gone) {
    scene.advance_to(settings.start + std::chrono::hours(gone));
    return scene.chamber().humidity().pct();
  };
  const double closed = humidity_after(1);
  // The humidifier's play of 1 % on either side, and what wet trays add: 2 % (see the steady
  // state).
  EXPECT_NEAR(humidity_after(11), 87.5, 3.0);
  EXPECT_NEAR(humidity_after(21), 77.5, 3.0);
  EXPECT_NEAR(humidity_after(30), 77.5, 3.0);
  EXPECT_GT(closed, 95.0);
}

TEST(Scene, an_opening_that_cannot_be_is_refused) {
  for (const char* text : {"", "73", "73@10", "73@10+0", "73@-1+10", "10@0+10", "73@0+10x"}) {
    EXPECT_FALSE(parse_opening(text)) << text;
  }
}

}  // namespace
}  // namespace takehold::sensors
