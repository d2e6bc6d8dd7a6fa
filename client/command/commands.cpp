#include "client/command/commands.hpp"

namespace takehold::client {

// The one table: a command's file gives add_<name>(CommandTree&), and its name stands here, in the
// order in which --help lists them.
// clang-format off
#define TAKEHOLD_COMMANDS(COMMAND) \
  COMMAND(season) \
  COMMAND(variety) \
  COMMAND(lot) \
  COMMAND(pairing) \
  COMMAND(plan) \
  COMMAND(calendar) \
  COMMAND(today) \
  COMMAND(done) \
  COMMAND(sow) \
  COMMAND(emerged) \
  COMMAND(thin) \
  COMMAND(prick) \
  COMMAND(measure) \
  COMMAND(move) \
  COMMAND(lose) \
  COMMAND(cull) \
  COMMAND(forecast) \
  COMMAND(match) \
  COMMAND(graft) \
  COMMAND(stage) \
  COMMAND(tend) \
  COMMAND(regime) \
  COMMAND(finish) \
  COMMAND(setout) \
  COMMAND(harvest) \
  COMMAND(remark) \
  COMMAND(labels) \
  COMMAND(trays) \
  COMMAND(worksheet) \
  COMMAND(chamber) \
  COMMAND(watch) \
  COMMAND(seen) \
  COMMAND(quiet) \
  COMMAND(send) \
  COMMAND(air) \
  COMMAND(takes) \
  COMMAND(compare) \
  COMMAND(causes) \
  COMMAND(worth) \
  COMMAND(ranking) \
  COMMAND(chart) \
  COMMAND(growth) \
  COMMAND(report) \
  COMMAND(trial) \
  COMMAND(undo) \
  COMMAND(export) \
  COMMAND(import) \
  COMMAND(backup) \
  COMMAND(restore) \
  COMMAND(doctor) \
  COMMAND(demo) \
  COMMAND(completion) \
  COMMAND(manual)
// clang-format on

#define COMMAND(name) void add_##name(CommandTree& tree);
TAKEHOLD_COMMANDS(COMMAND)
#undef COMMAND

void add_commands(CommandTree& tree) {
#define COMMAND(name) add_##name(tree);
  TAKEHOLD_COMMANDS(COMMAND)
#undef COMMAND
}

}  // namespace takehold::client
