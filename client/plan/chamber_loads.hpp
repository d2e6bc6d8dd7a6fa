// Grafts day by day while a choice of graft days is made. Only for the sources of this folder.
#pragma once

#include "client/plan/chamber_room.hpp"

namespace takehold::client {

/// Refers to the room, which outlives it.
class ChamberLoads {
 public:
  /// For grafts from `first` to `last`.
  ChamberLoads(const Room& room, int first, int last);

  void add(int day, int grafts) { loads_[static_cast<std::size_t>(day - first_)] += grafts; }
  void take(int day, int grafts) { add(day, -grafts); }

  /// All but `moved`. It never falls when grafts are added.
  RoomCost cost() const;
  RoomUse use_on(int day) const;
  const std::vector<int>& loads() const { return loads_; }
  /// Grafts that can still be made on these days.
  int free_hands() const;
  /// Above the places: plants, or trays where the plants alone would fit.
  int excess(RoomUse use) const;

 private:
  const Room& room_;
  int first_;
  std::vector<int> loads_;
};

}  // namespace takehold::client
