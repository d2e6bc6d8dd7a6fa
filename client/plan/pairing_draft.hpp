// One pairing on its way to a plan: its days, where its seed comes from, and its counts.
#pragma once

#include <optional>

#include "client/plan/count_search.hpp"
#include "client/plan/pair_chance.hpp"
#include "client/plan/seed_box.hpp"
#include "client/plan/sown_parts.hpp"

namespace takehold::client {

/// What all pairings of one plan have in common. Everything is read only while they are drafted, so
/// that several can be at once.
struct PlanBasis {
  const PlanRequest& request;
  const Course& course;  ///< of the first bench, from noon on
  const MatchCounter& counter;
  const MatchCounter& any_mismatch;  ///< every pair of graftable stems fits
  const MatchCounter& any_size;      ///< as `counter`, for stems of every size
  const TakeModel& takes;
};

inline constexpr std::uint64_t kPlanSeed = 1;  ///< of all its random numbers
inline constexpr double kCellPrice = 0.05;     ///< where the sheet says nothing (assumed)
inline constexpr double kGraftPrice = 0.20;    ///< likewise

/// What is believed of a pairing's takes, its own record in it.
TakeBelief take_of(const PlanBasis& basis, const Pairing& pairing);
WorkPrices prices_of(const Season& season);
/// No plan makes more grafts than this.
int most_grafts(const Pairing& pairing);
/// Of a pairing, the grafts made of it counted. Refers to `take`.
PairChance chance_of(const PlanBasis& basis, const TakeBelief& take, const Pairing& pairing);
GraftsMade made_of(const PlanRequest& request, const Pairing& pairing);

/// Where one side's seed may come from, in the order in which it is used up: what lies before the
/// last is sown whole first; the last has no limit.
struct SourceLimit {
  std::size_t source;
  int most;
};
struct PairSources {
  std::vector<SourceLimit> rootstock;
  std::vector<SourceLimit> scion;
};

struct PairDraft {
  const Pairing* pairing = nullptr;
  std::optional<Day> graft_on{};  ///< nothing when no day does
  bool late = false;              ///< finished only after the season's window
  bool complete = false;          ///< grafts made already reach the confidence: no more to do
  std::vector<int> shifts{};      ///< work days around it, in days
  SidePlan rootstock{};
  SidePlan scion{};
  PairCounts needed{};  ///< for the confidence
  PairCounts listed{};  ///< of seed that is there, or to be bought as a whole lot
  bool reached = true;  ///< the confidence can be reached with any amount of seed
  PairSpread needed_spread{};
  bool is_pooled = false;  ///< its rootstock seed is its part of a sowing shared with others
  PairCounts alone{};      ///< of a pooled one: what it would need by itself
  std::optional<PairSpread> listed_spread{};  ///< of `listed`, where that was simulated already
  SampledChance chance{};                     ///< of `listed`
  CountOutlook finished{};
  double useful_needed = 0;  ///< of `needed`, as `useful`
  double useful = 0;  ///< expected finished plants of `listed`, those beyond `want` not counted
  std::optional<LimitedBy> limited_by{};
  double cost = 0;
};

/// No more seed of either side is tried than this.
SeedCounts most_tried(const PairDraft& draft);

/// Days and counts of one pairing, which is one of the request's, its seed taken from `sources` in
/// their order.
PairDraft draft_pairing(const PlanBasis& basis, const SeedBox& box, const Pairing& pairing,
                        const PairSources& sources);

/// Fills in what `draft.listed` leads to. `listed` with fewer seeds than needed has its grafts
/// chosen anew.
void judge_listed(const PlanBasis& basis, PairDraft& draft);

}  // namespace takehold::client
