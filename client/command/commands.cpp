#include "client/command/commands.hpp"

// The one table: a command's file gives add_<name>(CommandTree&), and its name stands here, in the
// order in which --help lists them.
#define TAKEHOLD_COMMANDS(COMMAND) COMMAND(air) COMMAND(match) COMMAND(takes)

namespace takehold::client {

#define COMMAND(name) void add_##name(CommandTree& line);
TAKEHOLD_COMMANDS(COMMAND)
#undef COMMAND

void add_commands(CommandTree& line) {
#define COMMAND(name) add_##name(line);
  TAKEHOLD_COMMANDS(COMMAND)
#undef COMMAND
}

}  // namespace takehold::client
