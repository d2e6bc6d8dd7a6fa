// Which batches do not get what they ask for because a younger one rules, and how far off they are.
#pragma once

#include <span>
#include <vector>

#include "daemon/healing/asks.hpp"
#include "daemon/watch/watch.hpp"

namespace takehold::daemon {

/// One for each batch left out of a shared band of what is measured (light is not), with all of its
/// collisions in one text.
std::vector<Compromised> compromised(std::span<const BatchAsks> batches, const SharedAsks& shared);

}  // namespace takehold::daemon
