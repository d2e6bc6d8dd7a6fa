#include "client/plan/pool_groups.hpp"

#include <map>
#include <tuple>

namespace takehold::client {
namespace {

bool may_share(const PairDraft& draft) {
  return draft.graft_on && !draft.late && draft.reached && draft.rootstock.parts.size() == 1 &&
         draft.rootstock.sown() == 0 && draft.needed.seeds.rootstock > 0;
}

}  // namespace

std::vector<PoolMembers> pools_among(const std::vector<PairDraft>& drafts) {
  std::map<std::tuple<std::size_t, Day, std::vector<int>>, PoolMembers> groups;
  for (std::size_t i = 0; i < drafts.size(); ++i) {
    const PairDraft& draft = drafts[i];
    if (!may_share(draft)) continue;
    groups[{draft.rootstock.parts.front().source, *draft.graft_on, draft.shifts}].push_back(i);
  }
  std::vector<PoolMembers> pools;
  for (const auto& [key, members] : groups) {
    // Evenly, so that no pairing is left over alone.
    const std::size_t count = (members.size() + kMostInPool - 1) / kMostInPool;
    for (std::size_t k = 0; k < count; ++k) {
      const auto at = [&](std::size_t part) {
        return members.begin() + static_cast<std::ptrdiff_t>(part * members.size() / count);
      };
      if (at(k + 1) - at(k) > 1) pools.emplace_back(at(k), at(k + 1));
    }
  }
  return pools;
}

}  // namespace takehold::client
