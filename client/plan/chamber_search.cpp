// Branch and bound. No part of the cost falls when a batch is added, so a part of a choice that
// costs as much as the best whole one is given up. Two parts that leave the same grafts on the same
// days have the same future: only the one moved least goes on.
#include "client/plan/chamber_search.hpp"

#include <algorithm>
#include <cstdlib>
#include <tuple>

namespace takehold::client {
namespace {

constexpr long kMostSteps = 2'000'000;  // well under a second; never reached by 12 batches

using Group = std::vector<const RoomBatch*>;

Group ordered(Group group) {
  std::stable_sort(group.begin(), group.end(), [](const RoomBatch* a, const RoomBatch* b) {
    if (a->grafts != b->grafts) return a->grafts > b->grafts;
    return std::tie(a->best, a->days) < std::tie(b->best, b->days);
  });
  return group;
}
int earliest(const Group& group) {
  int day = first_day(*group.front());
  for (const RoomBatch* batch : group) day = std::min(day, first_day(*batch));
  return day;
}
int latest(const Group& group) {
  int day = last_day(*group.front());
  for (const RoomBatch* batch : group) day = std::max(day, last_day(*batch));
  return day;
}

}  // namespace

int first_day(const RoomBatch& batch) {
  return *std::min_element(batch.days.begin(), batch.days.end());
}

int last_day(const RoomBatch& batch) {
  return *std::max_element(batch.days.begin(), batch.days.end());
}

int moved(const RoomBatch& batch, int day) {
  return batch.grafts * std::abs(day - batch.best);
}

ChamberSearch::ChamberSearch(const Room& room, Group group)
    : group_(ordered(std::move(group))),
      loads_(room, earliest(group_), latest(group_)),
      chosen_(group_.size()),
      rest_(group_.size() + 1),
      seen_(group_.size()) {
  for (std::size_t i = group_.size(); i-- > 0;) rest_[i] = rest_[i + 1] + group_[i]->grafts;
  room_at_least_ = inevitable(room);
}

std::map<const RoomBatch*, int> ChamberSearch::run() {
  go(0, 0);
  std::map<const RoomBatch*, int> days;
  for (std::size_t i = 0; i < group_.size(); ++i) days[group_[i]] = best_days_[i];
  return days;
}

bool ChamberSearch::is_exact() const {
  return steps_ < kMostSteps;
}

// Batches that stand inside on a day wherever they are grafted.
int ChamberSearch::inevitable(const Room& room) const {
  int most = 0;
  for (int day = earliest(group_); day <= latest(group_); ++day) {
    int plants = 0;
    for (const RoomBatch* batch : group_) {
      const bool surely = last_day(*batch) <= day && day < first_day(*batch) + room.stay_days;
      plants += surely ? batch->grafts : 0;
    }
    for (const RoomGuest& guest : room.guests) plants += day < guest.until ? guest.grafts : 0;
    const int trays = (plants + room.cells_per_tray - 1) / room.cells_per_tray;
    most = std::max(most, loads_.excess({plants, trays}));
  }
  return most;
}

std::vector<ChamberSearch::Step> ChamberSearch::steps(std::size_t i, int moved_before) {
  const RoomBatch& batch = *group_[i];
  const bool same_as_last = i > 0 && group_[i - 1]->grafts == batch.grafts &&
                            group_[i - 1]->best == batch.best && group_[i - 1]->days == batch.days;
  std::vector<Step> list;
  for (const int day : batch.days) {
    if (same_as_last && day < chosen_[i - 1]) continue;
    loads_.add(day, batch.grafts);
    RoomCost bound = loads_.cost();
    bound.hands += std::max(0, rest_[i + 1] - loads_.free_hands());
    bound.room = std::max(bound.room, room_at_least_);
    bound.moved = moved_before + moved(batch, day);
    loads_.take(day, batch.grafts);
    list.push_back({bound, day});
  }
  std::sort(list.begin(), list.end(), [](const Step& a, const Step& b) {
    return std::tie(a.bound, a.day) < std::tie(b.bound, b.day);
  });
  return list;
}

void ChamberSearch::go(std::size_t i, int moved_before) {
  if (i == group_.size()) {
    RoomCost cost = loads_.cost();
    cost.moved = moved_before;
    if (best_days_.empty() || cost < best_) {
      best_ = cost;
      best_days_ = chosen_;
    }
    return;
  }
  if (!is_new(i, moved_before)) return;
  for (const Step& step : steps(i, moved_before)) {
    if (!best_days_.empty() && !(step.bound < best_)) return;
    if (++steps_ >= kMostSteps && !best_days_.empty()) return;
    loads_.add(step.day, group_[i]->grafts);
    chosen_[i] = step.day;
    go(i + 1, step.bound.moved);
    loads_.take(step.day, group_[i]->grafts);
  }
}

// Equal batches follow each other in order of days, so where the last went belongs to the state.
bool ChamberSearch::is_new(std::size_t i, int moved_before) {
  auto key = loads_.loads();
  key.push_back(i > 0 ? chosen_[i - 1] : 0);
  const auto [at, fresh] = seen_[i].try_emplace(std::move(key), moved_before);
  if (!fresh && at->second <= moved_before) return false;
  at->second = moved_before;
  return true;
}

}  // namespace takehold::client
