// thin: seedlings taken out because a cell held too many.
#include "client/command/handful.hpp"

namespace takehold::client {

Thinning thin(const Telling& telling, const std::string& sowing, int removed) {
  return record_handful<Thinning>(telling, sowing, removed, {"thin", "taken out", "take out"});
}

void add_thin(CommandTree& tree) {
  CLI::App& app = tree.command(
      "thin",
      {kDaily, "seedlings taken out because a cell held too many; no failures", "", "thin S1 3"});
  add_handful(tree, app, "removed,--count", "how many were taken out", thin,
              [](const Thinning& record) {
                return fmt::format("{}: {} taken out", record.sowing, record.removed);
              });
}

}  // namespace takehold::client
