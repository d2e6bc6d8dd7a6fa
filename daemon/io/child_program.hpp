// A program started, fed and waited for without holding up anything else.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "daemon/io/asio.hpp"

namespace takehold::daemon {

/// Runs `command` (looked for in PATH) with `input` on its stdin; after `patience` it is killed.
/// Its exit status; -1: it could not be started, or was stopped.
awaitable<int> run_program(std::vector<std::string> command, std::string input,
                           std::chrono::milliseconds patience);

}  // namespace takehold::daemon
