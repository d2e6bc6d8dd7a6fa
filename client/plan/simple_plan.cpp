#include "client/plan/simple_plan.hpp"

#include <algorithm>

#include "client/plan/plan_notes.hpp"
#include "client/plan/plan_tables.hpp"
#include "client/plan/share_out.hpp"

namespace takehold::client {
namespace {

constexpr auto kCourse = std::chrono::days(120);  // older seedlings are never grafted

BenchCycle start_bench(const PlanRequest& request) {
  if (request.benches.empty()) return {};
  const auto first =
      std::min_element(request.benches.begin(), request.benches.end(),
                       [](const Bench& a, const Bench& b) { return a.position < b.position; });
  return {first->day, first->night, first->day_hours};
}

TakeModel take_model(const PlanRequest& request) {
  std::vector<Tally> tallies;
  for (const auto& [names, tally] : request.takes) tallies.push_back(tally);
  return TakeModel(tallies);
}

}  // namespace

SeasonPlan plan_simply(const PlanRequest& request) {
  SeedBox box(request);
  const Course course(hourly_from_noon(start_bench(request), kCourse));
  const TakeModel takes = take_model(request);
  std::vector<PairDraft> pairs;
  for (const Pairing& pairing : request.pairings) {
    pairs.push_back(draft_pairing(request, course, pairing, takes, box));
  }
  std::vector<RootDraft> roots;
  for (const OwnRoot& wish : request.own_roots) {
    roots.push_back(draft_own_root(request, course, wish, box));
  }
  share_scarce_seed(box, pairs, roots);
  SeasonPlan plan;
  plan.confidence = request.season.confidence;
  plan.ready_on = request.season.ready_on;
  for (const PairDraft& draft : pairs) {
    plan.pairings.push_back(table_of(request, box, draft));
  }
  for (const RootDraft& draft : roots) {
    plan.own_root.push_back(table_of(request, box, draft));
  }
  add_sowing_list(plan);
  add_seed_balance(plan, box, pairs, roots);
  plan.warnings = notes_on(plan, request, pairs, box);
  return plan;
}

}  // namespace takehold::client
