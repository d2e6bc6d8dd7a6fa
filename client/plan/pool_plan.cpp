#include "client/plan/pool_plan.hpp"

#include <algorithm>

#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

constexpr int kCoarseSeasons = 384;
constexpr int kRounds = 24;     // of a little more scion seed for members that fall short
constexpr double kHope = 0.05;  // how much dearer than the best a round may begin

// n divided by need, whole seeds that add up to n.
std::vector<int> divided(int n, const std::vector<int>& needs) {
  int all = 0;
  for (const int need : needs) all += need;
  std::vector<int> parts;
  int before = 0, given = 0;
  for (const int need : needs) {
    before += need;
    const int now = static_cast<int>(static_cast<long long>(n) * before / std::max(1, all));
    parts.push_back(now - given);
    given = now;
  }
  return parts;
}

class Pool {
 public:
  Pool(const PlanBasis& basis, const PoolMembers& members, std::vector<PairDraft>& drafts)
      : basis_(basis), members_(members), drafts_(drafts) {
    std::size_t main = members.front();
    for (const std::size_t i : members) {
      if (drafts[i].needed.seeds.rootstock > drafts[main].needed.seeds.rootstock) main = i;
    }
    rootstock_ = drafts[main].rootstock;
    for (const std::size_t i : members) {
      takes_.push_back(take_of(basis, *drafts[i].pairing));
      const PairDraft& draft = drafts[i];
      shares_.push_back(
          {draft.scion, draft.listed.seeds.scion, draft.listed.grafts, draft.pairing->weight});
    }
    for (std::size_t k = 0; k < members.size(); ++k) {
      const Pairing& pairing = *drafts[members[k]].pairing;
      chances_.push_back(chance_of(basis, takes_[k], pairing));
    }
  }

  bool find() {
    const double apart = cost_apart();
    const int most = apart_seeds() - 1;
    DrawStore few(kPlanSeed, std::min(kCoarseSeasons, basis_.request.seasons));
    DrawStore store(kPlanSeed, basis_.request.seasons);
    PoolSeasons decide = seasons(store, most);
    set_luck(seasons(few, most).spreads(most), decide.spreads(most));
    const int start = look_around(few, most, apart);
    std::fill(luck_.begin(), luck_.end(), 0.0);
    decide.set(shares_);
    for (int total = start; total <= most; total += 1 + most / 60) {
      const auto spreads = decide.spreads(total);
      if (!all_reach(spreads)) continue;
      if (cost(total) >= apart) return false;
      keep(total, spreads);
      return true;
    }
    return false;
  }

  double gain(int rootstocks, int most_seasons) {
    DrawStore store(kPlanSeed, std::min(most_seasons, basis_.request.seasons));
    const auto spreads = seasons(store, rootstocks).spreads(rootstocks);
    double sum = 0;
    for (std::size_t k = 0; k < spreads.size(); ++k) {
      sum += chances_[k].useful(spreads[k], shares_[k].grafts);
    }
    return sum;
  }

  void list(int rootstocks) {
    DrawStore store(kPlanSeed, basis_.request.seasons);
    const auto spreads = seasons(store, rootstocks).spreads(rootstocks);
    const auto parts = divided(rootstocks, needs());
    for (std::size_t k = 0; k < members_.size(); ++k) {
      PairDraft& draft = drafts_[members_[k]];
      draft.listed.seeds.rootstock = parts[k];
      draft.listed_spread = spreads[k];
    }
  }

 private:
  PoolSeasons seasons(DrawStore& store, int most) const {
    return {rootstock_, most, shares_, drafts_[members_.front()].shifts, basis_.counter, store};
  }
  bool is_short(std::size_t k, const PairSpread& spread) const {
    return chances_[k].probability(spread, shares_[k].grafts) <
           basis_.request.season.confidence + luck_[k] - kReached;
  }
  // How much better few seasons make a member look than all of them do.
  void set_luck(const std::vector<PairSpread>& few, const std::vector<PairSpread>& all) {
    for (std::size_t k = 0; k < luck_.size(); ++k) {
      luck_[k] = chances_[k].probability(few[k], shares_[k].grafts) -
                 chances_[k].probability(all[k], shares_[k].grafts);
    }
  }
  bool all_reach(const std::vector<PairSpread>& spreads) const {
    for (std::size_t k = 0; k < spreads.size(); ++k) {
      if (is_short(k, spreads[k])) return false;
    }
    return true;
  }
  void raise_those_short(const std::vector<PairSpread>& spreads) {
    for (std::size_t k = 0; k < spreads.size(); ++k) {
      if (!is_short(k, spreads[k])) continue;
      shares_[k].seeds = std::min(shares_[k].seeds + 1 + shares_[k].seeds / 30,
                                  std::min(shares_[k].scion.most(), StemKey::kMostSeeds));
      if (shares_[k].seeds % 2 == 0) ++shares_[k].grafts;
    }
  }

  // In few seasons: less and less rootstock seed, and for the members that fall short then a little
  // more scion seed and a graft, as long as that makes the whole cheaper. Leaves the best shares
  // found, and returns their rootstock seed.
  int look_around(DrawStore& store, int most, double apart) {
    std::vector<PoolShare> best = shares_;
    int best_total = most, total = most;
    double least = apart;
    PoolSeasons look = seasons(store, most);
    for (int round = 0; round < kRounds && total > 0; ++round) {
      look.set(shares_);
      auto spreads = look.spreads(total);
      while (all_reach(spreads)) {
        if (cost(total) < least) {
          least = cost(total);
          best = shares_;
          best_total = total;
        }
        total -= 1 + total / 40;
        if (total <= 0) break;
        spreads = look.spreads(total);
      }
      raise_those_short(spreads);
      if (cost(std::max(1, total)) >= least + kHope * least) break;
    }
    shares_ = std::move(best);
    return best_total;
  }

  std::vector<int> needs() const {
    std::vector<int> needs;
    for (const std::size_t i : members_) needs.push_back(drafts_[i].alone.seeds.rootstock);
    return needs;
  }
  int apart_seeds() const {
    int sum = 0;
    for (const std::size_t i : members_) sum += drafts_[i].needed.seeds.rootstock;
    return sum;
  }
  double cost_apart() const {
    double sum = 0;
    const WorkPrices prices = prices_of(basis_.request.season);
    for (const std::size_t i : members_) {
      const PairDraft& draft = drafts_[i];
      sum += CountCosts(draft.rootstock, draft.scion, prices).of(draft.needed);
    }
    return sum;
  }
  double cost(int rootstocks) const {
    const WorkPrices prices = prices_of(basis_.request.season);
    double sum = rootstock_.cost(rootstocks, prices.cell, prices.seeds_per_cell);
    for (const PoolShare& share : shares_) {
      sum += share.scion.cost(share.seeds, prices.cell, prices.seeds_per_cell) +
             prices.graft * share.grafts;
    }
    return sum;
  }

  void keep(int rootstocks, const std::vector<PairSpread>& spreads) {
    std::vector<int> alone;
    for (const std::size_t i : members_) alone.push_back(drafts_[i].needed.seeds.rootstock);
    const auto parts = divided(rootstocks, alone);
    for (std::size_t k = 0; k < members_.size(); ++k) {
      PairDraft& draft = drafts_[members_[k]];
      draft.alone = draft.needed;
      draft.rootstock = rootstock_;
      draft.needed = {{parts[k], shares_[k].seeds}, shares_[k].grafts};
      draft.listed = draft.needed;
      draft.needed_spread = spreads[k];
      draft.is_pooled = true;
    }
  }

  const PlanBasis& basis_;
  const PoolMembers& members_;
  std::vector<PairDraft>& drafts_;
  SidePlan rootstock_;
  std::vector<TakeBelief> takes_;
  std::vector<PoolShare> shares_;
  std::vector<PairChance> chances_;
  std::vector<double> luck_ = std::vector<double>(members_.size(), 0.0);
};

}  // namespace

bool pool_drafts(const PlanBasis& basis, const PoolMembers& members,
                 std::vector<PairDraft>& drafts) {
  return Pool(basis, members, drafts).find();
}

void list_pool(const PlanBasis& basis, const PoolMembers& members, int rootstocks,
               std::vector<PairDraft>& drafts) {
  Pool(basis, members, drafts).list(rootstocks);
}

double pool_gain(const PlanBasis& basis, const PoolMembers& members, int rootstocks, int seasons,
                 std::vector<PairDraft>& drafts) {
  return Pool(basis, members, drafts).gain(rootstocks, seasons);
}

}  // namespace takehold::client
