// `takehold pairing check`, below `takehold pairing`.
#pragma once

#include "client/command/command_tree.hpp"

namespace takehold::client {

void add_pairing_check(CommandTree& tree, CLI::App& pairing);

}  // namespace takehold::client
