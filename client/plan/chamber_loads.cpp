#include "client/plan/chamber_loads.hpp"

#include <algorithm>
#include <limits>

namespace takehold::client {
namespace {

int trays_for_plants(int plants, int cells) {
  return (plants + cells - 1) / cells;
}

}  // namespace

std::optional<int> trays_of(const Room& room) {
  if (!room.places) return std::nullopt;
  return trays_for_plants(*room.places, room.cells_per_tray);
}

ChamberLoads::ChamberLoads(const Room& room, int first, int last)
    : room_(room), first_(first), loads_(static_cast<std::size_t>(last - first + 1)) {}

RoomUse ChamberLoads::use_on(int day) const {
  RoomUse use;
  const auto add = [&](int plants) {
    use.plants += plants;
    use.trays += trays_for_plants(plants, room_.cells_per_tray);
  };
  const int last = first_ + static_cast<int>(loads_.size()) - 1;
  for (int d = std::max(first_, day - room_.stay_days + 1); d <= std::min(day, last); ++d) {
    add(loads_[static_cast<std::size_t>(d - first_)]);
  }
  for (const RoomGuest& guest : room_.guests) {
    if (day < guest.until) add(guest.grafts);
  }
  return use;
}

int ChamberLoads::excess(RoomUse use) const {
  if (!room_.places) return 0;
  return std::max({0, use.plants - *room_.places, use.trays - *trays_of(room_)});
}

int ChamberLoads::free_hands() const {
  if (!room_.grafts_per_day) return std::numeric_limits<int>::max();
  int sum = 0;
  for (const int load : loads_) sum += std::max(0, *room_.grafts_per_day - load);
  return sum;
}

RoomCost ChamberLoads::cost() const {
  RoomCost cost;
  const int days = static_cast<int>(loads_.size());
  for (int i = 0; i < days; ++i) {
    const int load = loads_[static_cast<std::size_t>(i)];
    if (load == 0) continue;
    if (room_.grafts_per_day) cost.hands += std::max(0, load - *room_.grafts_per_day);
    // The chamber is fullest on a day on which something enters.
    if (room_.places) cost.room = std::max(cost.room, excess(use_on(first_ + i)));
    for (int j = i + 1; j < std::min(days, i + static_cast<int>(room_.apart.size())); ++j) {
      if (loads_[static_cast<std::size_t>(j)] == 0) continue;
      cost.air += room_.apart[static_cast<std::size_t>(j - i)].air;
      cost.light += room_.apart[static_cast<std::size_t>(j - i)].light;
    }
    for (const RoomGuest& guest : room_.guests) {
      const auto beside = guest.beside.find(first_ + i);
      if (beside == guest.beside.end()) continue;
      cost.air += beside->second.air;
      cost.light += beside->second.light;
    }
  }
  return cost;
}

}  // namespace takehold::client
