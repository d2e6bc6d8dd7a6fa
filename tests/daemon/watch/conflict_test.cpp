#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "daemon/watch/chamber.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using sensors::RelativeHumidity;
using testing::HasSubstr;

const sensors::Instant kStart = *sensors::parse_instant("2027-04-12T00:00:00Z");

Batch batch(const char* label, double low_pct, double high_pct, sensors::Instant entered) {
  const Band<RelativeHumidity> moist{RelativeHumidity::pct(low_pct),
                                     RelativeHumidity::pct(high_pct)};
  Stage stage;
  stage.name = "only";
  stage.length = 240h;
  stage.humidity = Ramp<RelativeHumidity>{moist, moist};
  Batch one;
  one.label = label;
  one.regime = {"trial", "", {}, {stage}};
  one.entered_at = entered;
  return one;
}

/// All that is said while time passes without readings, ten minutes at a time.
std::vector<Event> pass(Chamber& chamber, sensors::Instant from, std::chrono::hours length) {
  std::vector<Event> all;
  for (auto at = from; at <= from + length; at += 10min) {
    for (auto& event : chamber.wait(at)) all.push_back(std::move(event));
  }
  return all;
}

TEST(Conflict, is_said_once_with_who_suffers_and_by_how_much_and_taken_back) {
  Chamber chamber({}, {}, kStart, 0);
  chamber.put(batch("G1", 65, 80, kStart), kStart);
  chamber.put(batch("G2", 95, 100, kStart + 1h), kStart);
  const auto said = pass(chamber, kStart, 12h);
  ASSERT_EQ(said.size(), 2u) << "G2's coming, and the conflict";
  ASSERT_TRUE(said[1].warning);
  EXPECT_EQ(said[1].warning->kind, WarningKind::conflict);
  EXPECT_EQ(said[1].warning->about, "G1");
  EXPECT_THAT(said[1].text, HasSubstr("15.0 % over"));  // 95 less 80
  auto left = batch("G1", 65, 80, kStart);
  left.left_at = kStart + 13h;
  chamber.put(left, kStart + 13h);
  const auto after = pass(chamber, kStart + 13h, 2h);
  ASSERT_EQ(after.size(), 1u);
  EXPECT_EQ(after[0].type, EventType::cleared);
}

TEST(Conflict, bands_that_meet_are_none) {
  Chamber chamber({}, {}, kStart, 0);
  chamber.put(batch("G1", 80, 96, kStart), kStart);
  chamber.put(batch("G2", 95, 100, kStart), kStart);
  for (const auto& event : pass(chamber, kStart, 6h)) EXPECT_FALSE(event.warning) << event.text;
}

}  // namespace
}  // namespace takehold::daemon
