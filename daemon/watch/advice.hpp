// What a warning says besides the numbers: the likely cause, and what to do first.
#pragma once

#include <string>

#include "daemon/watch/event.hpp"

namespace takehold::daemon {

/// A sentence or two for a grower at arm's length. Of a probe's fault: what to do with the probe.
std::string advice(Cause cause);

}  // namespace takehold::daemon
