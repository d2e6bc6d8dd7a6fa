#include "client/plan/chamber_members.hpp"

#include <algorithm>
#include <map>

namespace takehold::client {

std::string name_of(const PlannedPairing& pairing) {
  return pairing.id.empty() ? pairing.scion + "/" + pairing.rootstock : pairing.id;
}

std::vector<Members> members_of(const SeasonPlan& plan, bool pools_together) {
  std::vector<Members> all;
  std::map<const SharedSowing*, std::size_t> pools;
  for (std::size_t i = 0; i < plan.pairings.size(); ++i) {
    const std::string name = name_of(plan.pairings[i]);
    const auto pool =
        std::find_if(plan.shared.begin(), plan.shared.end(), [&](const SharedSowing& shared) {
          return std::find(shared.pairings.begin(), shared.pairings.end(), name) !=
                 shared.pairings.end();
        });
    if (!plan.pairings[i].graft_on || plan.pairings[i].grafts < 1) continue;
    if (!pools_together || pool == plan.shared.end()) {
      all.push_back({i});
    } else if (const auto [at, fresh] = pools.try_emplace(&*pool, all.size()); fresh) {
      all.push_back({i});
    } else {
      all[at->second].push_back(i);
    }
  }
  return all;
}

}  // namespace takehold::client
