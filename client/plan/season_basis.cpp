#include "client/plan/season_basis.hpp"

#include <algorithm>

#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

constexpr auto kCourse = std::chrono::days(120);  // older seedlings are never grafted

const auto kThickest = static_cast<std::uint16_t>(Graftable{}.thickest.um());

Tolerance within(const Season& season) {
  return Tolerance::percent_of_mean(season.tolerance_pct);
}

TakeModel take_model(const PlanRequest& request) {
  std::vector<Tally> tallies;
  for (const auto& [names, tally] : request.takes) tallies.push_back(tally);
  return TakeModel(tallies);
}

}  // namespace

BenchCycle start_bench(const PlanRequest& request) {
  if (request.benches.empty()) return {};
  const auto first =
      std::min_element(request.benches.begin(), request.benches.end(),
                       [](const Bench& a, const Bench& b) { return a.position < b.position; });
  return {first->day, first->night, first->day_hours};
}

SeasonBasis::SeasonBasis(const PlanRequest& request)
    : course_(hourly_from_noon(start_bench(request), kCourse)),
      takes_(take_model(request)),
      counter_(within(request.season), kThickest),
      any_mismatch_(Tolerance::unlimited(), kThickest),
      any_size_(within(request.season), static_cast<std::uint16_t>(StemKey::kWidest)),
      basis_{request, course_, counter_, any_mismatch_, any_size_, takes_} {}

std::vector<int> SeasonBasis::shifts_around(Day graft_on) const {
  std::vector<int> shifts;
  const Season& season = basis_.request.season;
  for (int shift = -season.window_days; shift <= season.window_days; ++shift) {
    if (shift == 0 || is_work_day(season, graft_on + std::chrono::days(shift))) {
      shifts.push_back(shift);
    }
  }
  return shifts;
}

}  // namespace takehold::client
