#include "client/takes/take_knowledge.hpp"

#include <fmt/format.h>

namespace takehold::client {

std::string TakeKnowledge::source() const {
  const auto grafts = [](int count) {
    return fmt::format("{} {}", count, count == 1 ? "graft" : "grafts");
  };
  if (is_assumed()) return "assumed: no graft was judged yet";
  if (own_grafts == 0) return "from " + grafts(other_grafts) + " of other pairings";
  if (other_grafts == 0) return "from " + grafts(own_grafts) + " of it";
  return "from " + grafts(own_grafts) + " of it and " + grafts(other_grafts) + " of others";
}

TakeKnowledge take_knowledge(std::span<const PairingTally> all, std::string_view pairing,
                             const TakePrior& prior) {
  TakeKnowledge knowledge;
  std::vector<Tally> tallies;
  Tally own;
  for (const PairingTally& row : all) {
    tallies.push_back(row.tally);
    if (row.pairing == pairing) {
      own = row.tally;
    } else {
      knowledge.other_grafts += row.tally.tried;
    }
  }
  knowledge.own_grafts = own.tried;
  knowledge.belief = TakeModel(tallies, prior).belief(own);
  return knowledge;
}

}  // namespace takehold::client
