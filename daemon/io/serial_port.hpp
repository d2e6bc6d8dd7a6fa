// One open serial line, without a coroutine in sight of whoever only needs to open and configure.
//
// The line is raw, eight bits, no parity, one stop bit, no flow control. It is opened without
// becoming the controlling terminal and without blocking.
#pragma once

#include <string>

#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// A file descriptor that the caller owns. Codes "cannot-open" (not there, no right, in the way of
/// another) and "not-a-line" (no terminal). A right that is missing is told with what to do.
sensors::Result<int> open_serial(const std::string& device, int baud);

}  // namespace takehold::daemon
