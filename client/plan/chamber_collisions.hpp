// What does not go together in the chamber, told.
#pragma once

#include <vector>

#include "client/plan/chamber_plan.hpp"
#include "client/plan/chamber_room.hpp"

namespace takehold::client {

/// Days of the room are those since 1970-01-01. Hands, room, air and light, each day (or pair of
/// days) that is too much once.
std::vector<ChamberCollision> collisions_of(const Room& room, const std::vector<RoomBatch>& batches,
                                            const std::vector<int>& days);

}  // namespace takehold::client
