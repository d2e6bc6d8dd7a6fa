#include "client/plan/scarce_seed.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <memory>

#include "client/plan/counts.hpp"
#include "client/plan/share_seed.hpp"
#include "client/plan/take_tail.hpp"

namespace takehold::client {
namespace {

constexpr int kMostPackets = 6;  // told one by one

// A claim, what it may be given does for the plants themselves, and how it takes what it is given.
struct Claimant {
  SeedClaim claim{};
  std::function<double(const std::vector<int>&)> plants{};
  std::function<void(const std::vector<int>&)> accept{};
};

int used(const SidePlan& side, int seeds, std::size_t source) {
  const PartCounts counts = side.spread(seeds);
  int sum = 0;
  for (std::size_t i = 0; i < side.parts.size(); ++i) {
    if (side.parts[i].source == source) sum += counts[i] - side.parts[i].sown;
  }
  return sum;
}

std::function<double(const std::vector<int>&)> remembered(
    std::function<double(const std::vector<int>&)> value) {
  const auto known = std::make_shared<std::map<std::vector<int>, double>>();
  return [known, value = std::move(value)](const std::vector<int>& seeds) {
    const auto [place, is_new] = known->try_emplace(seeds);
    if (is_new) place->second = value(seeds);
    return place->second;
  };
}

// One pairing's expected useful plants at any seed, in few seasons.
class PairGain {
 public:
  PairGain(const PlanBasis& basis, const PairDraft& draft)
      : take_(take_of(basis, *draft.pairing)),
        chance_(chance_of(basis, take_, *draft.pairing)),
        store_(kPlanSeed, std::min(kGainSeasons, basis.request.seasons)),
        seasons_(draft.rootstock, draft.scion, draft.shifts, basis.counter, store_),
        grafts_(draft.needed.grafts) {
    seasons_.match_within(CountWindow::up_to(draft.needed.seeds));
  }
  double at(SeedCounts seeds) { return chance_.useful(seasons_.spread(seeds), grafts_); }

 private:
  TakeBelief take_;
  PairChance chance_;
  DrawStore store_;
  PairSeasons seasons_;
  int grafts_;
};

class Scarcity {
 public:
  Scarcity(const PlanBasis& basis, const SeedBox& box, const std::vector<PoolMembers>& pools,
           std::vector<PairDraft>& pairs, std::vector<RootDraft>& roots)
      : basis_(basis), box_(box), pools_(pools), pairs_(pairs), roots_(roots) {
    for (std::size_t source = 0; source < box.size(); ++source) {
      if (!box.at(source).is_short()) continue;
      lots_.push_back(source);
      on_hand_.push_back(std::max(0, box.at(source).on_hand));
    }
  }

  ScarceSeed share() {
    ScarceSeed result;
    if (lots_.empty()) return result;
    for (PairDraft& draft : pairs_) claim_pair(draft);
    for (const PoolMembers& pool : pools_) claim_pool(pool);
    for (RootDraft& draft : roots_) claim_root(draft);
    const SeedShares shares = shared(on_hand_);
    result.is_exact = shares.is_exact;
    const double now = plants(shares);
    for (std::size_t lot = 0; lot < lots_.size(); ++lot) result.buy.push_back(purchase(lot, now));
    for (std::size_t i = 0; i < claimants_.size(); ++i) claimants_[i].accept(shares.given[i]);
    return result;
  }

 private:
  std::optional<std::size_t> place_of(std::size_t source) const {
    const auto place = std::find(lots_.begin(), lots_.end(), source);
    if (place == lots_.end()) return std::nullopt;
    return static_cast<std::size_t>(place - lots_.begin());
  }

  // The last source of a side is the one that may fall short: those before it are used up.
  struct SideClaim {
    int* seeds;
    int before;  // from other sources
  };
  void claim_side(const SidePlan& side, int& seeds, std::vector<SideClaim>& sides,
                  SeedClaim& claim) const {
    const std::size_t source = side.parts.back().source;
    const auto place = place_of(source);
    const int from_it = used(side, seeds, source);
    if (!place || from_it == 0) return;
    claim.lots.push_back(*place);
    claim.wants.push_back(from_it);
    sides.push_back({&seeds, seeds - from_it});
  }

  void claim_pair(PairDraft& draft) {
    if (!draft.graft_on) return;
    Claimant claimant;
    std::vector<SideClaim> sides;
    if (!draft.is_pooled) {
      claim_side(draft.rootstock, draft.listed.seeds.rootstock, sides, claimant.claim);
    }
    claim_side(draft.scion, draft.listed.seeds.scion, sides, claimant.claim);
    if (sides.empty()) return;
    const auto gain = std::make_shared<PairGain>(basis_, draft);
    const SeedCounts full = draft.is_pooled ? draft.alone.seeds : draft.needed.seeds;
    claimant.plants = remembered([gain, sides, full, &draft](const std::vector<int>& given) {
      SeedCounts seeds = full;
      for (std::size_t k = 0; k < sides.size(); ++k) {
        const bool below = sides[k].seeds == &draft.listed.seeds.rootstock;
        (below ? seeds.rootstock : seeds.scion) = sides[k].before + given[k];
      }
      return gain->at(seeds);
    });
    claimant.accept = [sides](const std::vector<int>& given) {
      for (std::size_t k = 0; k < sides.size(); ++k) *sides[k].seeds = sides[k].before + given[k];
    };
    add(std::move(claimant), draft.pairing->weight);
  }

  void claim_pool(const PoolMembers& pool) {
    const SidePlan& rootstock = pairs_[pool.front()].rootstock;
    const auto place = place_of(rootstock.parts.front().source);
    if (!place) return;
    int seeds = 0;
    for (const std::size_t i : pool) seeds += pairs_[i].needed.seeds.rootstock;
    Claimant claimant;
    claimant.claim = {{*place}, {seeds}, {}};
    const int step = 1 + seeds / 25;  // between them the gain runs straight
    const auto exact = remembered([this, pool](const std::vector<int>& given) {
      return pool_gain(basis_, pool, given.front(), kGainSeasons, pairs_);
    });
    claimant.plants = [exact, step, seeds](const std::vector<int>& given) {
      const int low = given.front() / step * step, high = std::min(seeds, low + step);
      const double at_low = exact({low});
      if (given.front() == low || high == low) return at_low;
      return at_low + (exact({high}) - at_low) * (given.front() - low) / (high - low);
    };
    claimant.accept = [this, pool](const std::vector<int>& given) {
      list_pool(basis_, pool, given.front(), pairs_);
    };
    add(std::move(claimant), pairs_[pool.front()].pairing->weight);
  }

  void claim_root(RootDraft& draft) {
    const auto place = place_of(draft.source);
    if (!place) return;
    Claimant claimant;
    claimant.claim = {{*place}, {draft.needed}, {}};
    const TakeBelief alive(box_.at(draft.source).known.viability);
    const auto useful = useful_takes(alive, draft.wish->want, draft.needed);
    claimant.plants = [useful](const std::vector<int>& given) {
      return useful[static_cast<std::size_t>(given.front())];
    };
    claimant.accept = [&draft](const std::vector<int>& given) { draft.listed = given.front(); };
    add(std::move(claimant), 1);
  }

  void add(Claimant claimant, double weight) {
    claimant.claim.gain = [plants = claimant.plants, weight](const std::vector<int>& given) {
      return weight * plants(given);
    };
    claimants_.push_back(std::move(claimant));
  }

  SeedShares shared(const std::vector<int>& on_hand) const {
    std::vector<SeedClaim> claims;
    for (const Claimant& claimant : claimants_) claims.push_back(claimant.claim);
    return share_seed(on_hand, claims);
  }

  double plants(const SeedShares& shares) const {
    double sum = 0;
    for (std::size_t i = 0; i < claimants_.size(); ++i) {
      sum += claimants_[i].plants(shares.given[i]);
    }
    return sum;
  }

  double gained(std::size_t lot, int seeds, double now) const {
    auto more = on_hand_;
    more[lot] += seeds;
    return std::max(0.0, plants(shared(more)) - now);
  }

  SeedPurchase purchase(std::size_t lot, double now) const {
    const SeedSource& source = box_.at(lots_[lot]);
    const int missing = source.needed - on_hand_[lot];
    SeedPurchase purchase{source.variety, source.lot, missing, gained(lot, missing, now), {}, {}};
    if (!source.price_is_known) return purchase;
    const int packet = source.record->packet_seeds.value_or(source.record->seeds);
    const int packets = cells_for(missing, packet);
    purchase.price = packets * *source.record->price;
    for (int n = 1; n <= std::min(packets, kMostPackets); ++n) {
      purchase.packets.push_back(
          {n * packet, gained(lot, std::min(n * packet, missing), now), n * *source.record->price});
    }
    return purchase;
  }

  const PlanBasis& basis_;
  const SeedBox& box_;
  const std::vector<PoolMembers>& pools_;
  std::vector<PairDraft>& pairs_;
  std::vector<RootDraft>& roots_;
  std::vector<std::size_t> lots_;  // sources
  std::vector<int> on_hand_;
  std::vector<Claimant> claimants_;
};

}  // namespace

ScarceSeed share_scarce_seed(const PlanBasis& basis, const SeedBox& box,
                             const std::vector<PoolMembers>& pools, std::vector<PairDraft>& pairs,
                             std::vector<RootDraft>& roots) {
  return Scarcity(basis, box, pools, pairs, roots).share();
}

}  // namespace takehold::client
