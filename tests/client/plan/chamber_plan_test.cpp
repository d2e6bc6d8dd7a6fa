// The chamber in a season's plan, and what two batches' stages ask of one air.
#include "client/plan/chamber_plan.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "client/plan/chamber_bands.hpp"
#include "client/plan/chamber_notes.hpp"
#include "client/plan/season_plan.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using sensors::Day;
using sensors::Days;
using sensors::make_day;

daemon::Regime steady() {
  return daemon::find_regime("steady", {}).value();
}

BandHours apart(int days) {
  const auto regime = steady();
  const sensors::Instant noon{};
  return colliding_hours({regime, noon}, {regime, noon + Days(days)});
}

// `steady` by hand: closed for 72 h at 95-100 %, then 96 h from 90-100 to 65-80 %. Its upper limit
// falls below 95 after 24 h of venting, so with one day between them the younger is out of its
// closed stage by then. With two, 24 h of the younger's closed stage are left in which they do not
// meet; once both vent, the younger's lower limit 90 - 25x lies below the older's upper 90 - 20x.
// With three it lies above, 90 - 25x against 85 - 20x, for the 24 h until the older leaves: 48
// + 24. With four the whole closed stage collides, with five and six the 48 and 24 h that they
// share.
TEST(ChamberBands, steady_batches_may_be_a_day_apart_and_not_two) {
  EXPECT_EQ(apart(0), (BandHours{0, 0}));
  EXPECT_EQ(apart(1).air, 0);
  EXPECT_EQ(apart(2).air, 24);
  EXPECT_EQ(apart(3).air, 72);
  EXPECT_EQ(apart(4).air, 72);
  EXPECT_EQ(apart(5).air, 48);
  EXPECT_EQ(apart(6).air, 24);
  EXPECT_EQ(apart(7), (BandHours{0, 0}));
  EXPECT_EQ(apart(1).light, 24);  // 0-50 and 50-100 umol only touch
}

TEST(ChamberBands, a_batch_held_longer_leaves_later) {
  const auto regime = steady();
  const sensors::Instant noon{};
  EXPECT_EQ(leaves_at({regime, noon}), noon + Days(7));
  const std::vector<daemon::ManualEvent> held{
      {daemon::EventKind::hold, noon + Days(1), std::chrono::hours(12)}};
  EXPECT_EQ(leaves_at({regime, noon, held}), noon + Days(7) + std::chrono::hours(12));
}

struct Season2 {
  PlanRequest request;
  SeasonPlan plan;

  Season2() {
    request.made_on = make_day(2027, 1, 10);
    request.season.ready_on = make_day(2027, 5, 15);
    request.regime = steady();
  }
  void add(const std::string& id, int grafts, Day graft_on = make_day(2027, 5, 1)) {
    Pairing wish;
    wish.id = id;
    request.pairings.push_back(wish);
    PlannedPairing pairing;
    pairing.id = id;
    pairing.grafts = grafts;
    pairing.graft_on = graft_on;
    pairing.scion_sowings.push_back({});
    pairing.scion_sowings.back().sow_on = graft_on - Days(20);
    plan.pairings.push_back(pairing);
  }
  bool noted(const std::string& code) const {
    const auto notes = notes_on_chamber(plan.chamber);
    return std::any_of(notes.begin(), notes.end(),
                       [&](const PlanNote& note) { return note.code == code; });
  }
};

TEST(ChamberPlan, nothing_moves_where_all_fits) {
  Season2 season;
  season.request.season.places = 60;
  season.request.season.grafts_per_day = 60;
  season.add("P1", 30);
  season.add("P2", 30);
  place_in_chamber(season.request, season.plan);
  EXPECT_EQ(season.plan.pairings[0].graft_on, make_day(2027, 5, 1));
  EXPECT_TRUE(season.plan.chamber.moved.empty());
  ASSERT_EQ(season.plan.chamber.days.size(), 2U);
  EXPECT_EQ(season.plan.chamber.days[0].plants, 60);
  EXPECT_EQ(season.plan.chamber.days[0].trays, 10);
  EXPECT_EQ(season.plan.chamber.days[1].on, make_day(2027, 5, 8));
  EXPECT_EQ(season.plan.chamber.days[1].plants, 0);
  EXPECT_TRUE(notes_on_chamber(season.plan.chamber).empty());
}

TEST(ChamberPlan, hands_spread_over_free_days_of_the_window_only) {
  Season2 season;
  season.request.season.grafts_per_day = 40;
  season.request.season.free_days = {Weekday::sat, Weekday::sun};
  season.add("P1", 30);
  season.add("P2", 25);
  place_in_chamber(season.request, season.plan);
  EXPECT_EQ(season.plan.pairings[0].graft_on, make_day(2027, 5, 1));
  EXPECT_EQ(season.plan.pairings[1].graft_on, make_day(2027, 5, 2));
  EXPECT_TRUE(season.noted("graft-day-moved"));
  EXPECT_FALSE(season.noted("many-grafts"));
  EXPECT_TRUE(season.noted("light-differs"));
}

TEST(ChamberPlan, a_full_chamber_names_the_move_that_resolves_it) {
  Season2 season;
  season.request.season.places = 60;
  season.add("P1", 50);
  season.add("P2", 25);
  place_in_chamber(season.request, season.plan);
  const ChamberPlan& chamber = season.plan.chamber;
  ASSERT_EQ(chamber.collisions.size(), 1U);
  EXPECT_EQ(chamber.collisions[0].code, "chamber-full");
  EXPECT_EQ(chamber.collisions[0].about, (std::vector<std::string>{"P1", "P2"}));
  ASSERT_EQ(chamber.resolve.size(), 1U);
  EXPECT_TRUE(chamber.is_resolvable);
  EXPECT_EQ(chamber.resolve[0].pairing, "P2");
  EXPECT_EQ(chamber.resolve[0].ready_on, chamber.resolve[0].to + Days(14));
  // Planned again with that day, nothing collides.
  season.plan.pairings[1].graft_on = chamber.resolve[0].to;
  season.request.pairings[1].ready_on = chamber.resolve[0].ready_on;
  place_in_chamber(season.request, season.plan);
  EXPECT_TRUE(season.plan.chamber.collisions.empty());
}

// Stems shared are matched on one day: the pool of P2 and P3 goes to the next day together, though
// the smaller of them alone would do.
TEST(ChamberPlan, pairings_that_share_stems_stay_together) {
  Season2 season;
  season.request.season.grafts_per_day = 50;
  season.add("P1", 40);
  season.add("P2", 10);
  season.add("P3", 8);
  season.plan.shared.push_back({"IF-26", "Ironfoot", 30, 40, {"P2", "P3"}});
  place_in_chamber(season.request, season.plan);
  EXPECT_EQ(season.plan.pairings[0].graft_on, make_day(2027, 5, 1));
  EXPECT_NE(season.plan.pairings[1].graft_on, make_day(2027, 5, 1));
  EXPECT_EQ(season.plan.pairings[1].graft_on, season.plan.pairings[2].graft_on);
  season.request.season.grafts_per_day = 15;  // no pool of 18 fits a day: then apart
  season.plan.pairings[0].grafts = 15;
  for (auto& pairing : season.plan.pairings) pairing.graft_on = make_day(2027, 5, 1);
  place_in_chamber(season.request, season.plan);
  EXPECT_NE(season.plan.pairings[1].graft_on, season.plan.pairings[2].graft_on);
}

// Ready two days apart: in `steady` that is 24 h of air that does not meet, and the windows of both
// hold days that are nearer.
TEST(ChamberPlan, stages_that_would_collide_are_brought_together) {
  Season2 season;
  season.add("P1", 20);
  season.add("P2", 10, make_day(2027, 5, 3));
  season.request.pairings[1].ready_on = make_day(2027, 5, 17);
  place_in_chamber(season.request, season.plan);
  EXPECT_EQ(season.plan.pairings[0].graft_on, make_day(2027, 5, 1));
  EXPECT_EQ(season.plan.pairings[1].graft_on, make_day(2027, 5, 1));
  EXPECT_TRUE(season.plan.chamber.collisions.empty());
}

TEST(ChamberPlan, collisions_no_window_resolves_are_explained) {
  Season2 season;
  season.request.season.window_days = 0;
  season.add("P1", 20);
  season.add("P2", 10, make_day(2027, 5, 4));
  season.request.pairings[1].ready_on = make_day(2027, 5, 18);
  place_in_chamber(season.request, season.plan);
  EXPECT_TRUE(season.noted("air-collides"));
  ASSERT_EQ(season.plan.chamber.resolve.size(), 1U);
  EXPECT_EQ(season.plan.chamber.resolve[0].pairing, "P2");
  EXPECT_TRUE(season.plan.chamber.is_resolvable);
}

TEST(ChamberPlan, batches_inside_count_until_they_leave) {
  Season2 season;
  season.request.made_on = make_day(2027, 4, 30);
  season.request.season.places = 30;
  season.request.season.window_days = 0;
  season.add("P1", 20);
  BatchInside inside{"G4", 20, *sensors::parse_instant("2027-04-28T12:00:00Z"), steady(), {}};
  season.request.inside = {inside};
  place_in_chamber(season.request, season.plan);
  EXPECT_TRUE(season.noted("chamber-full"));
  EXPECT_TRUE(season.noted("air-collides"));
  season.request.inside[0].entered_at = *sensors::parse_instant("2027-04-20T12:00:00Z");
  place_in_chamber(season.request, season.plan);
  EXPECT_TRUE(season.plan.chamber.collisions.empty());
}

}  // namespace
}  // namespace takehold::client
