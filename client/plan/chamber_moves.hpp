// How collisions in the chamber that no window resolves can be resolved all the same.
#pragma once

#include "client/plan/chamber_room.hpp"

namespace takehold::client {

/// A batch and the days to which it could go at a price: outside its window, or not free.
struct WiderDays {
  std::vector<int> days{};
};

struct RoomMoves {
  std::vector<int> days{};  ///< of all batches after the moves; unmoved ones as before
  RoomCost cost{};
};

/// From `days` on, one batch after the other goes to the day, of its window or wider, that lessens
/// the cost most, with the fewest grafts moved; until all fits or nothing helps. Moves that turn
/// out not to be needed are taken back. Not exact: a proposal.
RoomMoves moves_to_fit(const Room& room, const std::vector<RoomBatch>& batches,
                       const std::vector<WiderDays>& wider, const std::vector<int>& days);

}  // namespace takehold::client
