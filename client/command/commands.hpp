// All commands of the program.
#pragma once

#include "client/command/command_line.hpp"

namespace takehold::client {

/// Adds every command to the line.
void add_commands(CommandLine& line);

}  // namespace takehold::client
