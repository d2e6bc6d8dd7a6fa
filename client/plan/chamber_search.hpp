// The search behind choose_days, for batches that meet in the chamber. Only for the sources of this
// folder.
#pragma once

#include <map>

#include "client/plan/chamber_loads.hpp"

namespace takehold::client {

int first_day(const RoomBatch& batch);
int last_day(const RoomBatch& batch);
/// Grafts times days away from the best day.
int moved(const RoomBatch& batch, int day);

/// Refers to the room and the batches, which outlive it. For one run.
class ChamberSearch {
 public:
  ChamberSearch(const Room& room, std::vector<const RoomBatch*> group);
  /// The days of least cost, by the batch.
  std::map<const RoomBatch*, int> run();
  /// False: it was ended early, and the days are the best found till then.
  bool is_exact() const;

 private:
  struct Step {
    RoomCost bound;
    int day;
  };
  int inevitable(const Room& room) const;
  std::vector<Step> steps(std::size_t i, int moved_before);
  void go(std::size_t i, int moved_before);
  bool is_new(std::size_t i, int moved_before);

  std::vector<const RoomBatch*> group_;
  ChamberLoads loads_;
  std::vector<int> chosen_, best_days_;
  RoomCost best_{};
  std::vector<int> rest_;  // grafts of the batches from one on
  int room_at_least_ = 0;
  std::vector<std::map<std::vector<int>, int>> seen_;
  long steps_ = 0;
};

}  // namespace takehold::client
