// On which days to graft, so that hands, places and the chamber's air suffice: exact search.
#pragma once

#include <compare>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "client/plan/chamber_bands.hpp"

namespace takehold::client {

/// The grafts of one pairing, or of several that share their stems, all made on one day. Days are
/// counted from any day common to all.
struct RoomBatch {
  std::vector<std::string> names{};
  int grafts = 0;
  int best = 0;             ///< the day its stems match best
  std::vector<int> days{};  ///< on which it can be grafted; at least one
};

/// A batch that stands in the chamber already.
struct RoomGuest {
  std::string name{};
  int grafts = 0;
  int until = 0;                      ///< the first day on which it is out
  std::map<int, BandHours> beside{};  ///< with a batch grafted on that day; not named: none
};

/// What there is. Places are cells; a day's batches fill trays together, and a tray that is begun
/// takes the room of a whole one.
struct Room {
  int stay_days = 7;
  int cells_per_tray = 6;
  std::optional<int> places{};
  std::optional<int> grafts_per_day{};
  std::vector<BandHours> apart{};  ///< of two batches, by the days between them, from 0 on
  std::vector<RoomGuest> guests{};
};

/// What is wrong with a choice of days, worst first: compared member by member.
struct RoomCost {
  int hands = 0;  ///< grafts above what can be made in a day, over all days
  int room = 0;   ///< grafts (at least: trays) above the chamber's places, on its fullest day
  int air = 0;    ///< hours in which two graft days' batches ask for air that does not meet
  int light = 0;  ///< the same of light
  int moved = 0;  ///< grafts times days away from the best day
  auto operator<=>(const RoomCost&) const = default;
  /// What a cloth or a walk on another day does not settle.
  auto trouble() const { return std::tuple(hands, room, air); }
  bool fits() const { return hands == 0 && room == 0 && air == 0; }
};

struct RoomChoice {
  std::vector<int> days{};  ///< one a batch
  RoomCost cost{};
  bool is_exact = true;  ///< false: so many batches that the search was ended early
};

/// How full the chamber is on one day.
struct RoomUse {
  int plants = 0;
  int trays = 0;
};
RoomUse use_on(const Room& room, const std::vector<RoomBatch>& batches,
               const std::vector<int>& days, int day);
/// Trays that the room's places make, the last perhaps not whole.
std::optional<int> trays_of(const Room& room);

RoomCost cost_of(const Room& room, const std::vector<RoomBatch>& batches,
                 const std::vector<int>& days);

/// The choice of least cost, by branch and bound; of equal ones always the same.
RoomChoice choose_days(const Room& room, const std::vector<RoomBatch>& batches);

}  // namespace takehold::client
