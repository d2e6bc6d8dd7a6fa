#include "client/plan/season_planner.hpp"

#include <algorithm>

#include "client/plan/in_parallel.hpp"
#include "client/plan/plan_notes.hpp"
#include "client/plan/plan_tables.hpp"
#include "client/plan/rests_on.hpp"
#include "client/plan/scarce_seed.hpp"
#include "client/plan/season_basis.hpp"
#include "client/plan/waves.hpp"

namespace takehold::client {
namespace {

class SeasonPlanner {
 public:
  SeasonPlanner(const PlanRequest& request, const PlanWork& work)
      : request_(request), work_(work), box_(request) {}

  SeasonPlan plan() {
    draft_pairs();
    share_stems();
    in_parallel(pairs_.size(), work_.threads,
                [&](std::size_t i) { sow_in_waves(basis_, pairs_[i]); });
    settle_sources();
    for (const OwnRoot& wish : request_.own_roots) {
      roots_.push_back(draft_own_root(request_, season_.course(), wish, box_));
    }
    scarce_ = share_scarce_seed(basis_, box_, pools_, pairs_, roots_);
    in_parallel(pairs_.size(), work_.threads,
                [&](std::size_t i) { judge_listed(basis_, pairs_[i]); });
    return tables();
  }

 private:
  using Sources = std::vector<std::size_t>;

  // Every pairing as if its oldest lots had no end, all at once.
  void draft_pairs() {
    for (const Pairing& pairing : request_.pairings) {
      rootstocks_.push_back(box_.sources_of(pairing.rootstock, pairing.rootstock_lot));
      scions_.push_back(box_.sources_of(pairing.scion, pairing.scion_lot));
    }
    pairs_.resize(request_.pairings.size());
    const auto progress = [&](std::size_t done) {
      if (work_.progress) work_.progress(static_cast<int>(done), static_cast<int>(pairs_.size()));
    };
    in_parallel(
        pairs_.size(), work_.threads,
        [&](std::size_t i) {
          pairs_[i] =
              draft(i, {{{rootstocks_[i].front(), kNoLimit}}, {{scions_[i].front(), kNoLimit}}});
        },
        progress);
  }

  void share_stems() {
    if (request_.separate) return;
    auto groups = pools_among(pairs_);
    // A pool is of one lot: where that may not last, each pairing looks for its own seed.
    std::erase_if(groups, [&](const PoolMembers& members) {
      int seeds = 0;
      for (const std::size_t i : members) seeds += pairs_[i].needed.seeds.rootstock;
      const std::size_t i = members.front();
      return rootstocks_[i].size() > 1 && seeds > box_.left(rootstocks_[i].front());
    });
    std::vector<char> pooled(groups.size());
    in_parallel(groups.size(), work_.threads,
                [&](std::size_t g) { pooled[g] = pool_drafts(basis_, groups[g], pairs_) ? 1 : 0; });
    for (std::size_t g = 0; g < groups.size(); ++g) {
      if (pooled[g] != 0) pools_.push_back(groups[g]);
    }
  }

  // In the sheet's order: the oldest lot that suffices, else a mix of them from the oldest on.
  void settle_sources() {
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      if (!pairs_[i].is_pooled) settle(i, Side::rootstock);
      settle(i, Side::scion);
      take_out(pairs_[i].rootstock, pairs_[i].needed.seeds.rootstock);
      take_out(pairs_[i].scion, pairs_[i].needed.seeds.scion);
    }
  }

  void settle(std::size_t i, Side side) {
    const Sources& sources = side == Side::rootstock ? rootstocks_[i] : scions_[i];
    // A pooled pairing keeps its days: its scions come from its first lot, or fall short.
    if (pairs_[i].is_pooled) return;
    if (sources.size() < 2 || !pairs_[i].graft_on || suffices(pairs_[i], side)) return;
    const PairDraft before = pairs_[i];
    for (std::size_t k = 1; k < sources.size(); ++k) {
      pairs_[i] = draft(i, with(before, side, {{sources[k], kNoLimit}}));
      if (suffices(pairs_[i], side)) return;
    }
    std::vector<SourceLimit> mix;
    for (const std::size_t source : sources) {
      if (box_.left(source) > 0) mix.push_back({source, box_.left(source)});
    }
    if (mix.empty()) mix.push_back({sources.front(), kNoLimit});
    mix.back().most = kNoLimit;
    pairs_[i] = draft(i, with(before, side, mix));
  }

  static PairSources with(const PairDraft& draft, Side side, std::vector<SourceLimit> limits) {
    const auto open = [](const SidePlan& plan) {
      std::vector<SourceLimit> list;
      for (const PlannedPart& part : plan.parts) {
        const bool is_known = std::any_of(list.begin(), list.end(), [&](const SourceLimit& one) {
          return one.source == part.source;  // in waves
        });
        if (part.sowing.empty() && !is_known) list.push_back({part.source, part.most});
      }
      return list;
    };
    PairSources sources{open(draft.rootstock), open(draft.scion)};
    (side == Side::rootstock ? sources.rootstock : sources.scion) = std::move(limits);
    return sources;
  }

  bool suffices(const PairDraft& draft, Side side) const {
    const bool below = side == Side::rootstock;
    const SidePlan& plan = below ? draft.rootstock : draft.scion;
    const int seeds = below ? draft.needed.seeds.rootstock : draft.needed.seeds.scion;
    const PartCounts counts = plan.spread(seeds);
    for (std::size_t i = 0; i < plan.parts.size(); ++i) {
      if (counts[i] - plan.parts[i].sown > box_.left(plan.parts[i].source)) return false;
    }
    return true;
  }

  void take_out(const SidePlan& plan, int seeds) {
    const PartCounts counts = plan.spread(seeds);
    for (std::size_t i = 0; i < plan.parts.size(); ++i) {
      box_.need(plan.parts[i].source, counts[i] - plan.parts[i].sown);
    }
  }

  PairDraft draft(std::size_t i, const PairSources& sources) const {
    return draft_pairing(basis_, box_, request_.pairings[i], sources);
  }

  SeasonPlan tables() const {
    SeasonPlan plan;
    plan.confidence = request_.season.confidence;
    plan.ready_on = request_.season.ready_on;
    plan.seasons = request_.seasons;
    for (const PairDraft& draft : pairs_) plan.pairings.push_back(table_of(request_, box_, draft));
    for (const RootDraft& draft : roots_) plan.own_root.push_back(table_of(request_, box_, draft));
    add_sowing_list(plan, request_.season.seeds_per_cell);
    for (const PoolMembers& members : pools_)
      plan.shared.push_back(table_of(box_, members, pairs_));
    place_in_chamber(request_, plan);
    add_seed_balance(plan, box_, pairs_, roots_);
    plan.buy.insert(plan.buy.begin(), scarce_.buy.begin(), scarce_.buy.end());
    plan.rests_on = numbers_under(basis_, box_);
    plan.warnings = notes_on(plan, request_, pairs_, box_);
    if (!scarce_.is_exact) {
      plan.warnings.push_back({"shared-nearly", "",
                               "so many lots are short at once that their seed was shared by the "
                               "best of several searches, not by a complete one"});
    }
    return plan;
  }

  const PlanRequest& request_;
  const PlanWork& work_;
  SeedBox box_;
  SeasonBasis season_{request_};
  const PlanBasis& basis_ = season_.basis();
  std::vector<Sources> rootstocks_, scions_;
  std::vector<PairDraft> pairs_;
  std::vector<RootDraft> roots_;
  std::vector<PoolMembers> pools_;
  ScarceSeed scarce_;
};

}  // namespace

SeasonPlan plan_season(const PlanRequest& request, const PlanWork& work) {
  return SeasonPlanner(request, work).plan();
}

}  // namespace takehold::client
