// What a random number of the plan is for: the first part of its key.
#pragma once

#include <cstdint>

namespace takehold::client {

/// Never renumbered, or plans would change.
enum class DrawPurpose : std::uint64_t {
  viability = 1,
  emergence = 2,
  vigour = 3,
  seed_lives = 4,
  seed_speed = 5,
  seedling_size = 6,
  within_emergence = 7,
  scatter = 8,
};

}  // namespace takehold::client
