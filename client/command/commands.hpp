// All commands of the program.
#pragma once

#include "client/command/command_tree.hpp"

namespace takehold::client {

/// Adds every command to the line.
void add_commands(CommandTree& line);

}  // namespace takehold::client
