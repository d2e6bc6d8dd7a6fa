#include "client/plan/share_out.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace takehold::client {
namespace {

// One user of a scarce source.
struct Claim {
  double weight;
  int* seeds;
};

// Gives what is on hand to the claims in proportion to weight x need, whole seeds, none more than
// it needs: one seed at a time to whoever has the smallest share of its weighted need.
void share_out(std::vector<Claim>& claims, int on_hand) {
  std::vector<int> given(claims.size());
  for (int left = on_hand; left > 0; --left) {
    std::size_t next = claims.size();
    double least = INFINITY;
    for (std::size_t i = 0; i < claims.size(); ++i) {
      if (given[i] >= *claims[i].seeds) continue;
      const double share = (given[i] + 0.5) / (claims[i].weight * *claims[i].seeds);
      if (share < least) std::tie(least, next) = std::pair(share, i);
    }
    if (next == claims.size()) break;
    ++given[next];
  }
  for (std::size_t i = 0; i < claims.size(); ++i) *claims[i].seeds = given[i];
}

}  // namespace

void share_scarce_seed(const SeedBox& box, std::vector<PairDraft>& pairs,
                       std::vector<RootDraft>& roots) {
  for (std::size_t source = 0; source < box.size(); ++source) {
    if (!box.at(source).is_short()) continue;
    std::vector<Claim> claims;
    for (PairDraft& draft : pairs) {
      if (!draft.days) continue;
      const double weight = draft.pairing->weight;
      if (draft.rootstock_source == source)
        claims.push_back({weight, &draft.listed.rootstock_seeds});
      if (draft.scion_source == source) claims.push_back({weight, &draft.listed.scion_seeds});
    }
    for (RootDraft& draft : roots) {
      if (draft.source == source) claims.push_back({1.0, &draft.listed});
    }
    share_out(claims, std::max(0, box.at(source).on_hand));
  }
  for (PairDraft& draft : pairs) {
    draft.listed.grafts =
        std::min({draft.listed.grafts, draft.listed.rootstock_seeds, draft.listed.scion_seeds});
  }
}

}  // namespace takehold::client
