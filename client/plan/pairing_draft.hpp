// One pairing on its way to a plan: its days, where its seed comes from, and its counts.
#pragma once

#include <optional>

#include "client/plan/cheapest.hpp"
#include "client/plan/pair_outlook.hpp"
#include "client/plan/seed_box.hpp"

namespace takehold::client {

/// Everything a pairing's outlook is made of, so that one part at a time can be made perfect.
struct PairModel {
  SideOutlook rootstock{};
  SideOutlook scion{};
  double middle_ratio = 1;
  double tolerance_pct = 10;
  Chance take{};

  PairOutlook outlook() const {
    return PairOutlook(rootstock, scion, middle_ratio, tolerance_pct, take);
  }
};

/// The days of a pairing; nothing fits when the bench lets no seedling become graftable.
struct PairDays {
  Day graft_on;
  GraftAges ages;
  bool late = false;  ///< finished only after the season's window

  Day rootstock_on() const { return graft_on - std::chrono::days(ages.rootstock_days); }
  Day scion_on() const { return graft_on - std::chrono::days(ages.scion_days); }
};

struct PairDraft {
  const Pairing* pairing = nullptr;
  std::optional<PairDays> days{};
  std::size_t rootstock_source = 0;
  std::size_t scion_source = 0;
  PairModel model{};
  UnitPrices prices{};
  PairCounts needed{};  ///< for the confidence
  PairCounts listed{};  ///< of seed that is there, or to be bought as a whole lot
  bool reached = true;  ///< the confidence can be reached with any amount of seed
};

/// The last work day for the graft by which the pairing is hardened on its ready_on; later when the
/// seedlings can no longer be raised from sowings on or after the day the plan is made.
std::optional<PairDays> choose_days(const PlanRequest& request, const Course& course,
                                    const LotSpeed& rootstock, const LotSpeed& scion, Day ready_on);

/// Days, sources and counts of one pairing; its needs are taken out of the box.
PairDraft draft_pairing(const PlanRequest& request, const Course& course, const Pairing& pairing,
                        const TakeModel& takes, SeedBox& box);

/// What raises the probability of `draft.listed` most when made perfect; nothing when nothing does.
std::optional<LimitedBy> limiting_stage(const PairDraft& draft);

}  // namespace takehold::client
