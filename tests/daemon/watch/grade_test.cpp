#include "daemon/watch/grade.hpp"

#include <gtest/gtest.h>

#include "watched_chamber.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

TEST(Grade, a_little_for_two_minutes_is_not_a_lot_for_an_hour) {
  EXPECT_EQ(grade_of({2, 2min, {}, 24h}), Grade::serious);
  EXPECT_EQ(grade_of({2, 15min, {}, 24h}), Grade::dangerous);
  EXPECT_EQ(grade_of({20, 60min, {}, 24h}), Grade::dangerous);
}

TEST(Grade, the_first_three_days_weigh_more) {
  EXPECT_EQ(grade_of({4, 1min, {}, 71h}), Grade::dangerous);
  EXPECT_EQ(grade_of({4, 1min, {}, 73h}), Grade::serious);
  EXPECT_EQ(grade_of({0, 0min, 10min, 24h}), Grade::dangerous);
  EXPECT_EQ(grade_of({0, 0min, 10min, 100h}), Grade::mild);
}

Batch batch(const std::string& label, sensors::Instant entered_at, double low, double high) {
  using sensors::RelativeHumidity;
  const Band<RelativeHumidity> band{RelativeHumidity::pct(low), RelativeHumidity::pct(high)};
  Stage stage;
  stage.name = "only";
  stage.length = std::chrono::hours(240);
  stage.humidity = Ramp<RelativeHumidity>{band, band};
  Batch one;
  one.label = label;
  one.regime = {"trial", "", {}, {stage}};
  one.entered_at = entered_at;
  return one;
}

TEST(Conflict, the_older_batch_is_named_once_with_how_much_it_must_bear) {
  const auto start = *sensors::parse_instant("2027-04-12T00:00:00Z");
  Chamber chamber(WatchOptions{}, {{"left"}}, start, 0);
  chamber.put(batch("G1", start - 24h, 65, 80), start);
  chamber.put(batch("G2", start, 95, 100), start);
  auto events = chamber.wait(start + 10s);
  ASSERT_FALSE(events.empty());
  const Warning& warning = *events.front().warning;
  EXPECT_EQ(warning.kind, WarningKind::conflict);
  EXPECT_EQ(warning.about, "G1");
  EXPECT_NE(warning.text.find("younger G2 rules"), std::string::npos) << warning.text;
  EXPECT_NE(warning.text.find("15.0 % over"), std::string::npos) << warning.text;
  for (const auto& event : chamber.wait(start + 20s)) {
    EXPECT_NE(event.warning->kind, WarningKind::conflict) << event.text;
  }
  auto left = batch("G1", start - 24h, 65, 80);
  left.left_at = start + 30s;
  chamber.put(left, start + 30s);
  const auto after = chamber.wait(start + 40s);
  ASSERT_FALSE(after.empty());
  EXPECT_EQ(after.front().type, EventType::cleared);
}

}  // namespace
}  // namespace takehold::daemon
