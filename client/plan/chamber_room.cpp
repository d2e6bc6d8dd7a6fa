#include "client/plan/chamber_room.hpp"

#include <algorithm>
#include <map>

#include "client/plan/chamber_search.hpp"

namespace takehold::client {
namespace {

using Group = std::vector<const RoomBatch*>;

// Batches of two groups are never in the chamber together, nor grafted on one day, so each group
// is chosen for by itself.
std::vector<Group> groups_of(const Room& room, const std::vector<RoomBatch>& batches) {
  Group by_day;
  for (const RoomBatch& batch : batches) by_day.push_back(&batch);
  std::stable_sort(by_day.begin(), by_day.end(), [](const RoomBatch* a, const RoomBatch* b) {
    return first_day(*a) < first_day(*b);
  });
  std::vector<Group> groups;
  int until = 0;
  for (const RoomBatch* batch : by_day) {
    if (groups.empty() || first_day(*batch) >= until) groups.emplace_back();
    const int out = last_day(*batch) + std::max(1, room.stay_days);
    until = groups.back().empty() ? out : std::max(until, out);
    groups.back().push_back(batch);
  }
  return groups;
}

ChamberLoads loaded(const Room& room, const std::vector<RoomBatch>& batches,
                    const std::vector<int>& days) {
  const auto [first, last] = std::minmax_element(days.begin(), days.end());
  ChamberLoads loads(room, *first, *last);
  for (std::size_t i = 0; i < batches.size(); ++i) loads.add(days[i], batches[i].grafts);
  return loads;
}

}  // namespace

RoomUse use_on(const Room& room, const std::vector<RoomBatch>& batches,
               const std::vector<int>& days, int day) {
  return loaded(room, batches, days).use_on(day);
}

RoomCost cost_of(const Room& room, const std::vector<RoomBatch>& batches,
                 const std::vector<int>& days) {
  if (batches.empty()) return {};
  RoomCost cost = loaded(room, batches, days).cost();
  for (std::size_t i = 0; i < batches.size(); ++i) cost.moved += moved(batches[i], days[i]);
  return cost;
}

RoomChoice choose_days(const Room& room, const std::vector<RoomBatch>& batches) {
  RoomChoice choice;
  std::map<const RoomBatch*, int> days;
  for (Group& group : groups_of(room, batches)) {
    ChamberSearch search(room, std::move(group));
    days.merge(search.run());
    choice.is_exact = choice.is_exact && search.is_exact();
  }
  for (const RoomBatch& batch : batches) choice.days.push_back(days.at(&batch));
  choice.cost = cost_of(room, batches, choice.days);
  return choice;
}

}  // namespace takehold::client
