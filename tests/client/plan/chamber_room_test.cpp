// Graft days against every other choice, by a cost worked out here in another way.
#include "client/plan/chamber_room.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>
#include <random>
#include <set>

#include "client/plan/chamber_moves.hpp"

namespace takehold::client {
namespace {

// Night by night, from one hundred nights before to one hundred after.
RoomCost counted_by_night(const Room& room, const std::vector<RoomBatch>& batches,
                          const std::vector<int>& days) {
  RoomCost cost;
  const auto in_trays = [&](int plants) {
    return plants / room.cells_per_tray + (plants % room.cells_per_tray > 0 ? 1 : 0);
  };
  const std::set<int> used(days.begin(), days.end());
  for (int night = -100; night <= 100; ++night) {
    int plants = 0, trays = 0, made = 0;
    for (const int day : used) {
      int together = 0;
      for (std::size_t i = 0; i < days.size(); ++i)
        together += days[i] == day ? batches[i].grafts : 0;
      if (day == night) made = together;
      if (night < day || night >= day + room.stay_days) continue;
      plants += together;
      trays += in_trays(together);
    }
    if (room.grafts_per_day && made > *room.grafts_per_day)
      cost.hands += made - *room.grafts_per_day;
    if (!room.places) continue;
    cost.room = std::max({cost.room, plants - *room.places, trays - in_trays(*room.places)});
  }
  for (const int a : used) {
    for (const int b : used) {
      if (b <= a || b - a >= static_cast<int>(room.apart.size())) continue;
      cost.air += room.apart[static_cast<std::size_t>(b - a)].air;
      cost.light += room.apart[static_cast<std::size_t>(b - a)].light;
    }
  }
  for (std::size_t i = 0; i < days.size(); ++i) {
    cost.moved += batches[i].grafts * std::abs(days[i] - batches[i].best);
  }
  return cost;
}

RoomCost best_of_all(const Room& room, const std::vector<RoomBatch>& batches) {
  std::vector<std::size_t> at(batches.size());
  std::optional<RoomCost> best;
  for (;;) {
    std::vector<int> days;
    for (std::size_t i = 0; i < at.size(); ++i) days.push_back(batches[i].days[at[i]]);
    const RoomCost cost = counted_by_night(room, batches, days);
    if (!best || cost < *best) best = cost;
    std::size_t i = 0;
    while (i < at.size() && ++at[i] == batches[i].days.size()) at[i++] = 0;
    if (i == at.size()) return *best;
  }
}

// `steady` collides from two days on: see the test of the bands.
Room room_for(int places, int a_day) {
  Room room;
  room.places = places;
  room.grafts_per_day = a_day;
  room.apart = {{0, 0}, {0, 24}, {24, 48}, {48, 72}, {48, 72}, {48, 72}, {24, 48}};
  return room;
}

std::vector<RoomBatch> some_batches(std::mt19937& random, std::size_t count, int window) {
  std::vector<RoomBatch> batches;
  for (std::size_t i = 0; i < count; ++i) {
    RoomBatch batch{{"P" + std::to_string(i + 1)}, 1 + int(random() % 20), int(random() % 3), {}};
    for (int shift = -window; shift <= window; ++shift) {
      if (shift == 0 || random() % 4 != 0) batch.days.push_back(batch.best + shift);
    }
    batches.push_back(std::move(batch));
  }
  return batches;
}

TEST(ChamberRoom, no_other_choice_of_days_costs_less) {
  std::mt19937 random(20270412);
  int tight = 0;
  for (int round = 0; round < 120; ++round) {
    const auto batches = some_batches(random, 2 + random() % 4, 2);
    const Room room = room_for(15 + int(random() % 50), 8 + int(random() % 40));
    const RoomChoice choice = choose_days(room, batches);
    EXPECT_TRUE(choice.is_exact);
    EXPECT_EQ(counted_by_night(room, batches, choice.days), choice.cost) << round;
    EXPECT_EQ(choice.cost, best_of_all(room, batches)) << round;
    tight += choice.cost != RoomCost{} ? 1 : 0;
  }
  EXPECT_GT(tight, 60);  // else there was nothing to choose
}

TEST(ChamberRoom, twelve_batches_take_less_than_a_second) {
  std::mt19937 random(7);
  for (int round = 0; round < 12; ++round) {
    const auto batches = some_batches(random, 12, 2 + round % 2);
    int all = 0;
    for (const RoomBatch& batch : batches) all += batch.grafts;
    const Room room = room_for(all - int(random() % 9), all / (2 + round % 4));
    const auto begun = std::chrono::steady_clock::now();
    const RoomChoice choice = choose_days(room, batches);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    EXPECT_TRUE(choice.is_exact) << round;
    EXPECT_LT(took.count(), 1.0) << round;
  }
}

TEST(ChamberRoom, what_fits_is_left_where_the_stems_match_best) {
  const std::vector<RoomBatch> batches{{{"P1"}, 20, 3, {2, 3, 4}}, {{"P2"}, 30, 3, {1, 2, 3}}};
  const RoomChoice choice = choose_days(room_for(60, 60), batches);
  EXPECT_EQ(choice.days, (std::vector<int>{3, 3}));
  EXPECT_EQ(choice.cost, RoomCost{});
}

// 40 and 30 grafts, 60 a day: the smaller one goes to the next day, and the air still agrees.
TEST(ChamberRoom, too_many_for_a_day_are_spread_by_the_smallest_move) {
  const std::vector<RoomBatch> batches{{{"P1"}, 40, 0, {0, 1}}, {{"P2"}, 30, 0, {0, 1}}};
  const RoomChoice choice = choose_days(room_for(90, 60), batches);
  EXPECT_EQ(choice.days, (std::vector<int>{0, 1}));
  EXPECT_EQ(choice.cost.moved, 30);
  EXPECT_TRUE(choice.cost.fits());
}

TEST(ChamberRoom, a_tray_begun_takes_the_room_of_a_whole_one) {
  // 31 and 29 cells are 60, but on two days they are 6 and 5 trays of 6.
  const std::vector<RoomBatch> batches{{{"P1"}, 31, 0, {0}}, {{"P2"}, 29, 1, {1}}};
  EXPECT_EQ(choose_days(room_for(60, 60), batches).cost.room, 1);
  const std::vector<RoomBatch> of_a_day{{{"P1"}, 31, 0, {0}}, {{"P2"}, 29, 0, {0}}};
  EXPECT_EQ(choose_days(room_for(60, 60), of_a_day).cost.room, 0);
}

TEST(ChamberRoom, a_batch_inside_takes_room_and_asks_for_its_air) {
  Room room = room_for(30, 60);
  room.guests.push_back({"G1", 20, 4, {{3, {12, 0}}}});
  const std::vector<RoomBatch> batches{{{"P1"}, 20, 3, {3, 4, 5}}};
  const RoomChoice choice = choose_days(room, batches);
  EXPECT_EQ(choice.days, std::vector<int>{4});  // the day on which G1 is out
  EXPECT_TRUE(choice.cost.fits());
}

TEST(ChamberRoom, the_move_that_resolves_is_the_smallest_batch_by_a_week) {
  const std::vector<RoomBatch> batches{
      {{"P1"}, 40, 0, {0}}, {{"P2"}, 15, 0, {0}}, {{"P3"}, 20, 0, {0}}};
  const Room room = room_for(60, 80);
  EXPECT_EQ(choose_days(room, batches).cost.room, 15);
  const std::vector<WiderDays> wider(3, WiderDays{{-14, -7, 7, 14}});
  const RoomMoves moves = moves_to_fit(room, batches, wider, {0, 0, 0});
  EXPECT_TRUE(moves.cost.fits());
  EXPECT_EQ(std::abs(moves.days[1]), 7);
  EXPECT_EQ(moves.days[0], 0);
  EXPECT_EQ(moves.days[2], 0);
}

TEST(ChamberRoom, one_batch_larger_than_the_chamber_is_said_not_to_fit) {
  const std::vector<RoomBatch> batches{{{"P1"}, 80, 0, {0}}};
  const RoomMoves moves = moves_to_fit(room_for(60, 100), batches, {{{-7, 7}}}, {0});
  EXPECT_FALSE(moves.cost.fits());
  EXPECT_EQ(moves.days, std::vector<int>{0});
}

}  // namespace
}  // namespace takehold::client
