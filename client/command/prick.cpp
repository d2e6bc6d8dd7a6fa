// prick: seedlings set into cells of their own.
#include "client/command/handful.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

Pricking prick(const Telling& telling, const std::string& sowing, int plants) {
  return record_handful<Pricking>(telling, sowing, plants, {"prick", "pricked out", "prick out"});
}

void add_prick(CommandTree& tree) {
  CLI::App& app =
      tree.command("prick", {kDaily, "seedlings set into cells of their own", "", "prick S1 8"});
  add_handful(tree, app, "plants,--count", "how many", prick, [](const Pricking& record) {
    return fmt::format("{}: {} pricked out", record.sowing,
                       counted(record.plants, "seedling", "seedlings"));
  });
}

}  // namespace takehold::client
