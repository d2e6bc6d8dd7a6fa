#include "client/plan/chamber_moves.hpp"

#include <tuple>

namespace takehold::client {
namespace {

// What matters for a move, then how dear it is.
auto rank(const RoomCost& cost) {
  return std::tuple(cost.trouble(), cost.moved);
}

}  // namespace

RoomMoves moves_to_fit(const Room& room, const std::vector<RoomBatch>& batches,
                       const std::vector<WiderDays>& wider, const std::vector<int>& days) {
  RoomMoves now{days, cost_of(room, batches, days)};
  for (std::size_t round = 0; round < batches.size() && !now.cost.fits(); ++round) {
    RoomMoves best = now;
    for (std::size_t i = 0; i < batches.size(); ++i) {
      RoomMoves tried = now;
      std::vector<int> open = batches[i].days;
      open.insert(open.end(), wider[i].days.begin(), wider[i].days.end());
      for (const int day : open) {
        tried.days[i] = day;
        tried.cost = cost_of(room, batches, tried.days);
        if (tried.cost.trouble() >= now.cost.trouble()) continue;
        if (rank(tried.cost) < rank(best.cost)) best = tried;
      }
    }
    if (best.days == now.days) break;
    now = best;
  }
  for (std::size_t i = 0; i < batches.size(); ++i) {
    RoomMoves without = now;
    without.days[i] = days[i];
    without.cost = cost_of(room, batches, without.days);
    if (without.cost.trouble() <= now.cost.trouble()) now = without;
  }
  return now;
}

}  // namespace takehold::client
