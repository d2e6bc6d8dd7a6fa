// One open serial line, without a coroutine in sight of whoever only needs to open and configure.
//
// The line is raw, eight bits, no flow control. It is opened without becoming the controlling
// terminal and without blocking.
#pragma once

#include <string>

#include "daemon/settings/settings.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// A file descriptor that the caller owns. Codes "cannot-open" (not there, no right, in the way of
/// another) and "not-a-line" (no terminal). A right that is missing is told with what to do.
sensors::Result<int> open_serial(const std::string& device, const SerialForm& form);

}  // namespace takehold::daemon
