#include "client/takes/graft_fate.hpp"

#include <gtest/gtest.h>

#include "sensors/quantity/calendar.hpp"

namespace takehold::client {
namespace {

const sensors::TimeZone& lisbon() {
  static const auto zone = *sensors::TimeZone::named("Europe/Lisbon");
  return zone;
}

Instant on(unsigned day, int hour = 12) {
  return *sensors::parse_instant("2027-04-" + std::string(day < 10 ? "0" : "") +
                                 std::to_string(day) + "T" + std::to_string(hour) + ":00:00Z");
}

Batch batch(int grafts) {
  Batch b;
  b.id = "G1";
  b.scion = "Quarry Pink";
  b.rootstock = "Ironfoot";
  b.at = on(1);
  for (int i = 1; i <= grafts; ++i) {
    Graft graft;
    graft.number = graft.place = i;
    graft.rootstock_diameter = Millimetres::um(2000 + 60 * i);
    graft.scion_diameter = Millimetres::um(2000);
    b.grafts.push_back(graft);
  }
  return b;
}

Loss loss(int day, int count, std::vector<int> plants, Cause cause = Cause::wilted) {
  Loss record;
  record.subject = "G1";
  record.at = on(static_cast<unsigned>(1 + day));
  record.count = count;
  record.plants = std::move(plants);
  record.cause = cause;
  return record;
}

Finish finish(int taken, bool early = false) {
  Finish record;
  record.batch = "G1";
  record.at = on(11);
  record.taken = taken;
  record.early = early;
  return record;
}

std::vector<std::pair<std::string, Tally>> rows_by(GroupBy by,
                                                   const std::vector<BatchFate>& batches) {
  std::vector<std::pair<std::string, Tally>> list;
  for (const auto& row : tallies_by(by, batches)) list.emplace_back(row.pairing, row.tally);
  return list;
}
using Rows = std::vector<std::pair<std::string, Tally>>;

TEST(GraftFate, numbered_losses_tell_which_grafts_took) {
  const std::vector<Loss> losses{loss(3, 1, {2}), loss(5, 1, {4}, Cause::rotted)};
  const BatchFate fate = fate_of(batch(5), losses, {}, finish(3), lisbon());
  EXPECT_TRUE(fate.scored);
  EXPECT_EQ(fate.judged(), 5);
  EXPECT_EQ(fate.grafts[1].fate, Fate::lost);
  EXPECT_EQ(fate.grafts[4].fate, Fate::taken);
  ASSERT_EQ(fate.losses.size(), 2u);
  EXPECT_EQ(fate.losses[1].day, 5);
  EXPECT_EQ(fate.losses[1].cause, Cause::rotted);
  EXPECT_EQ(rows_by(GroupBy::mismatch, {fate}), (Rows{{"under 0.1 mm", {1, 1}},
                                                      {"0.1 to 0.2 mm", {1, 2}},
                                                      {"0.2 to 0.3 mm", {0, 1}},
                                                      {"0.3 mm or more", {1, 1}}}));
}

TEST(GraftFate, unnumbered_losses_leave_the_rest_untold_unless_none_took) {
  const BatchFate some = fate_of(batch(4), std::vector<Loss>{loss(3, 1, {}), loss(4, 1, {1})}, {},
                                 finish(2), lisbon());
  EXPECT_EQ(rows_by(GroupBy::mismatch, {some}),
            (Rows{{"under 0.1 mm", {0, 1}}, {"not told apart", {2, 3}}}));
  const BatchFate none =
      fate_of(batch(2), std::vector<Loss>{loss(3, 2, {})}, {}, finish(0), lisbon());
  EXPECT_EQ(none.grafts[1].fate, Fate::lost);
}

TEST(GraftFate, thrown_out_early_and_unscored_grafts_count_in_no_rate) {
  Cull cull;
  cull.subject = "G1";
  cull.at = on(3);
  cull.count = 1;
  cull.plants = {1};
  const BatchFate fate = fate_of(batch(3), {}, std::vector<Cull>{cull}, finish(2), lisbon());
  EXPECT_EQ(fate.grafts[0].fate, Fate::out);
  EXPECT_EQ(rows_by(GroupBy::rootstock, {fate}), (Rows{{"Ironfoot", {2, 2}}}));
  const BatchFate early = fate_of(batch(3), {}, {}, finish(3, true), lisbon());
  const BatchFate pending = fate_of(batch(3), {}, {}, std::nullopt, lisbon());
  const std::vector<BatchFate> both{early, pending};
  EXPECT_TRUE(tallies_by(GroupBy::method, both).empty());
  EXPECT_EQ(rows_by(GroupBy::pairing, both), (Rows{{"Quarry Pink/Ironfoot", {0, 0}}}));
}

TEST(GraftFate, months_stand_by_the_calendar_and_days_by_the_grower_s_clock) {
  Batch late = batch(1), soon = batch(2);
  late.at = *sensors::parse_instant("2027-04-30T23:30:00Z");  // 1 May in Lisbon
  const BatchFate may = fate_of(late, {}, {}, finish(1), lisbon());
  const BatchFate april = fate_of(soon, {}, {}, finish(2), lisbon());
  EXPECT_EQ(rows_by(GroupBy::month, {may, april}), (Rows{{"April", {2, 2}}, {"May", {1, 1}}}));
}

}  // namespace
}  // namespace takehold::client
