#include "client/plan/share_seed.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <numeric>

namespace takehold::client {
namespace {

using Seeds = std::vector<int>;

// A claim's gain at every count of its lots, worked out when first asked for.
class GainTable {
 public:
  GainTable(const SeedClaim& claim, const std::vector<int>& on_hand) : claim_(claim) {
    for (std::size_t k = 0; k < claim.lots.size(); ++k) {
      most_.push_back(std::min(claim.wants[k], on_hand[claim.lots[k]]));
    }
  }
  const Seeds& most() const { return most_; }
  double at(const Seeds& seeds) const {
    const auto [place, is_new] = known_.try_emplace(seeds);
    if (is_new) place->second = claim_.gain(seeds);
    return place->second;
  }
  double options() const {
    double product = 1;
    for (const int n : most_) product *= n + 1;
    return product;
  }
  // Every combination from none to most.
  template <class Visit>
  void each(const Visit& visit) const {
    Seeds seeds(most_.size(), 0);
    for (;;) {
      visit(seeds);
      std::size_t k = 0;
      while (k < seeds.size() && seeds[k] == most_[k]) seeds[k++] = 0;
      if (k == seeds.size()) return;
      ++seeds[k];
    }
  }

 private:
  const SeedClaim& claim_;
  Seeds most_;
  mutable std::map<Seeds, double> known_;
};

// The claims of one connected group, and the lots they use.
struct Group {
  std::vector<std::size_t> claims;
  std::vector<std::size_t> lots;
};

std::vector<Group> groups_of(std::size_t lots, const std::vector<SeedClaim>& claims) {
  std::vector<std::size_t> root(lots);
  std::iota(root.begin(), root.end(), std::size_t{0});
  const auto find = [&](std::size_t lot) {
    while (root[lot] != lot) lot = root[lot];
    return lot;
  };
  for (const SeedClaim& claim : claims) {
    for (const std::size_t lot : claim.lots) root[find(lot)] = find(claim.lots.front());
  }
  std::map<std::size_t, Group> groups;
  for (std::size_t lot = 0; lot < lots; ++lot) groups[find(lot)].lots.push_back(lot);
  for (std::size_t i = 0; i < claims.size(); ++i) {
    if (!claims[i].lots.empty()) groups[find(claims[i].lots.front())].claims.push_back(i);
  }
  std::vector<Group> list;
  for (auto& [lot, group] : groups) list.push_back(std::move(group));
  return list;
}

class Sharing {
 public:
  Sharing(const std::vector<int>& on_hand, const std::vector<SeedClaim>& claims)
      : on_hand_(on_hand), claims_(claims) {
    for (const SeedClaim& claim : claims) tables_.emplace_back(claim, on_hand);
    shares_.given.resize(claims.size());
    for (std::size_t i = 0; i < claims.size(); ++i) {
      shares_.given[i].assign(claims[i].lots.size(), 0);
    }
  }

  SeedShares share() {
    for (const Group& group : groups_of(on_hand_.size(), claims_)) {
      if (group.claims.empty()) continue;
      if (steps(group) <= kMostSharingSteps) {
        programme(group.claims, group.lots);
      } else {
        shares_.is_exact = false;
        lot_by_lot(group);
        swap_pairs(group);
      }
    }
    for (std::size_t i = 0; i < claims_.size(); ++i) {
      shares_.gain += tables_[i].at(shares_.given[i]);
    }
    return shares_;
  }

 private:
  double steps(const Group& group) const {
    double states = 1, options = 0;
    for (const std::size_t lot : group.lots) states *= on_hand_[lot] + 1;
    for (const std::size_t i : group.claims) options += tables_[i].options();
    return states * options;
  }

  // What is left of the lots, as one number.
  struct States {
    std::vector<std::size_t> lots;
    std::vector<std::size_t> stride;
    std::size_t count = 1;
  };
  States states_of(const std::vector<std::size_t>& lots) const {
    States states{lots, std::vector<std::size_t>(on_hand_.size(), 0), 1};
    for (const std::size_t lot : lots) {
      states.stride[lot] = states.count;
      states.count *= static_cast<std::size_t>(on_hand_[lot]) + 1;
    }
    return states;
  }
  bool fits(const States& states, std::size_t state, const SeedClaim& claim, const Seeds& seeds,
            std::size_t& cost) const {
    cost = 0;
    for (std::size_t k = 0; k < seeds.size(); ++k) {
      const std::size_t lot = claim.lots[k];
      if (states.stride[lot] == 0) continue;  // held, not shared out now
      const auto size = static_cast<std::size_t>(on_hand_[lot]) + 1;
      if (state / states.stride[lot] % size < static_cast<std::size_t>(seeds[k])) return false;
      cost += states.stride[lot] * static_cast<std::size_t>(seeds[k]);
    }
    return true;
  }

  // best[i][state]: the most that claims i.. gain when so much is left. Lots of a claim that are
  // not in `lots` keep what they have.
  void programme(const std::vector<std::size_t>& claims, const std::vector<std::size_t>& lots) {
    const States states = states_of(lots);
    std::vector<double> best(states.count, 0.0);
    std::vector<Options> options(claims.size());
    for (std::size_t c = claims.size(); c-- > 0;) {
      std::vector<double> now(states.count, -1.0);
      options[c].chosen.resize(states.count);
      tables_[claims[c]].each([&](const Seeds& seeds) {
        if (changes_held(states, claims[c], seeds)) return;
        options[c].seeds.push_back(seeds);
        try_option(states, claims[c], seeds, best, now, options[c]);
      });
      best = std::move(now);
    }
    std::size_t state = states.count - 1;
    for (std::size_t c = 0; c < claims.size(); ++c) {
      const Seeds& seeds = options[c].seeds[options[c].chosen[state]];
      std::size_t cost = 0;
      fits(states, state, claims_[claims[c]], seeds, cost);
      state -= cost;
      shares_.given[claims[c]] = seeds;
    }
  }

  // What a claim may be given, and which of that is best for every state.
  struct Options {
    std::vector<Seeds> seeds;
    std::vector<std::uint32_t> chosen;
  };

  void try_option(const States& states, std::size_t claim, const Seeds& seeds,
                  const std::vector<double>& best, std::vector<double>& now,
                  Options& options) const {
    const double gain = tables_[claim].at(seeds);
    for (std::size_t state = 0; state < states.count; ++state) {
      std::size_t cost = 0;
      if (!fits(states, state, claims_[claim], seeds, cost)) continue;
      const double sum = gain + best[state - cost];
      if (sum <= now[state]) continue;
      now[state] = sum;
      options.chosen[state] = static_cast<std::uint32_t>(options.seeds.size() - 1);
    }
  }

  bool changes_held(const States& states, std::size_t claim, const Seeds& seeds) const {
    for (std::size_t k = 0; k < seeds.size(); ++k) {
      if (states.stride[claims_[claim].lots[k]] == 0 && seeds[k] != shares_.given[claim][k]) {
        return true;
      }
    }
    return false;
  }

  double gain_of(const Group& group) const {
    double sum = 0;
    for (const std::size_t i : group.claims) sum += tables_[i].at(shares_.given[i]);
    return sum;
  }

  void lot_by_lot(const Group& group) {
    // From an even share: with nothing of one lot no other lot is worth anything.
    for (const std::size_t lot : group.lots) share_evenly(group, lot);
    for (double before = -1, now = gain_of(group); now > before + 1e-9;) {
      before = now;
      for (const std::size_t lot : group.lots) {
        std::vector<std::size_t> users;
        for (const std::size_t i : group.claims) {
          const auto& lots = claims_[i].lots;
          if (std::find(lots.begin(), lots.end(), lot) != lots.end()) users.push_back(i);
        }
        programme(users, {lot});
      }
      now = gain_of(group);
    }
  }

  void share_evenly(const Group& group, std::size_t lot) {
    int all = 0, before = 0;
    const auto visit = [&](const auto& act) {
      for (const std::size_t i : group.claims) {
        for (std::size_t k = 0; k < claims_[i].lots.size(); ++k) {
          if (claims_[i].lots[k] == lot) act(i, k);
        }
      }
    };
    visit([&](std::size_t i, std::size_t k) { all += claims_[i].wants[k]; });
    const int share = std::min(on_hand_[lot], all);
    visit([&](std::size_t i, std::size_t k) {
      const int until = before + claims_[i].wants[k];
      shares_.given[i][k] = share * until / std::max(1, all) - share * before / std::max(1, all);
      before = until;
    });
  }

  // Gives up to all that one claim has of a lot to another, in every lot both use, while it gains.
  void swap_pairs(const Group& group) {
    for (bool better = true; better;) {
      better = false;
      for (const std::size_t from : group.claims) {
        for (const std::size_t to : group.claims) {
          if (from != to) better = try_swap(from, to) || better;
        }
      }
    }
  }

  bool try_swap(std::size_t from, std::size_t to) {
    const double before = tables_[from].at(shares_.given[from]) + tables_[to].at(shares_.given[to]);
    double best = before + 1e-9;
    Seeds best_from, best_to;
    tables_[from].each([&](const Seeds& left) {
      Seeds more = shares_.given[to];
      for (std::size_t k = 0; k < left.size(); ++k) {
        const int moved = shares_.given[from][k] - left[k];
        if (moved < 0) return;
        for (std::size_t m = 0; m < more.size(); ++m) {
          if (claims_[to].lots[m] != claims_[from].lots[k]) continue;
          more[m] = std::min(more[m] + moved, tables_[to].most()[m]);
        }
      }
      const double now = tables_[from].at(left) + tables_[to].at(more);
      if (now <= best) return;
      best = now;
      best_from = left;
      best_to = more;
    });
    if (best_from.empty()) return false;
    shares_.given[from] = best_from;
    shares_.given[to] = best_to;
    return true;
  }

  const std::vector<int>& on_hand_;
  const std::vector<SeedClaim>& claims_;
  std::vector<GainTable> tables_;
  SeedShares shares_;
};

}  // namespace

SeedShares share_seed(const std::vector<int>& on_hand, const std::vector<SeedClaim>& claims) {
  return Sharing(on_hand, claims).share();
}

}  // namespace takehold::client
