#include "client/plan/root_draft.hpp"

#include <algorithm>
#include <cmath>

#include "client/growth/stem.hpp"
#include "client/plan/counts.hpp"
#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

constexpr auto kSetback = std::chrono::days(7);  // grafts stand still while vessels join: 5-8 days
// The clip that an average scion is grafted with: the middle of the published sizes.
constexpr auto kAimedDiameter = sensors::Millimetres::mm(2.0);
constexpr auto kReach = std::chrono::days(200);

std::optional<Day> own_root_day(const PlanRequest& request, const Course& course,
                                const LotSpeed& speed) {
  const auto age = age_at_diameter(course, speed, StemGrowth{}, kAimedDiameter);
  if (!age) return std::nullopt;
  const auto length = std::chrono::ceil<std::chrono::days>(request.regime_length);
  const auto growing = std::chrono::days(std::llround(age->count())) +
                       std::max(std::chrono::days(0), length - kSetback);
  const Day best = request.season.ready_on - growing;
  const auto before = work_day_before(request.season, best, kReach);
  if (before && *before >= request.made_on) return before;
  return work_day_after(request.season, std::max(best, request.made_on), kReach);
}

}  // namespace

RootDraft draft_own_root(const PlanRequest& request, const Course& course, const OwnRoot& wish,
                         SeedBox& box) {
  RootDraft draft;
  draft.wish = &wish;
  const auto seeds = [&](std::size_t source) {
    return smallest_beta_binomial(wish.want, box.at(source).known.viability,
                                  request.season.confidence)
        .value_or(kMostCounted);
  };
  const auto sources = box.sources_of(wish.variety, std::nullopt);
  draft.source = *std::max_element(sources.begin(), sources.end(),
                                   [&](auto a, auto b) { return box.left(a) < box.left(b); });
  for (const std::size_t source : sources) {
    if (seeds(source) > box.left(source)) continue;
    draft.source = source;
    break;
  }
  draft.sow_on = own_root_day(request, course, box.belief(draft.source).middle_speed());
  draft.needed = draft.listed = seeds(draft.source);
  box.need(draft.source, draft.needed);
  return draft;
}

}  // namespace takehold::client
