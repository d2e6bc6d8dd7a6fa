#include "client/plan/graft_day.hpp"

#include <algorithm>

#include "client/growth/stem.hpp"
#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

constexpr auto kEarlier = std::chrono::days(21);  // how far a graft day moves back to a work day
constexpr auto kLater = std::chrono::days(200);   // and ahead, when it is too late for the best

std::chrono::days whole_days(std::chrono::minutes length) {
  return std::chrono::ceil<std::chrono::days>(length);
}

bool can_be_graftable(const Course& course, const LotSpeed& speed, const std::vector<int>& ages) {
  return std::any_of(ages.begin(), ages.end(), [&](int age) {
    const auto middle = middle_seedling(course, speed, StemGrowth{}, Age(age));
    return middle && Graftable{}.holds(middle->heat, middle->diameter);
  });
}

std::vector<int> shifts_around(const PlanRequest& request, Day graft_on, Day last) {
  const int window = request.season.window_days;
  std::vector<int> shifts;
  for (int shift = -window; shift <= window; ++shift) {
    const Day day = graft_on + std::chrono::days(shift);
    const bool in_time = day >= request.made_on && day <= last;
    if (shift == 0 || (in_time && is_work_day(request.season, day))) shifts.push_back(shift);
  }
  return shifts;
}

}  // namespace

std::vector<int> ages_allowed(const PlanRequest& request, const Course& course, Day graft_on) {
  std::vector<int> ages;
  const int longest = static_cast<int>(course.length().count());
  for (int days = 1; days <= longest; ++days) {
    const Day sow_on = graft_on - std::chrono::days(days);
    if (sow_on >= request.made_on && is_work_day(request.season, sow_on)) ages.push_back(days);
  }
  return ages;
}

std::optional<GraftDay> choose_graft_day(const PlanRequest& request, const Course& course,
                                         const std::vector<LotSpeed>& to_sow, Day ready_on) {
  const auto length = whole_days(request.regime_length);
  const Day latest = ready_on - length;
  const Day deadline = latest + std::chrono::days(request.season.window_days);
  const auto at = [&](Day graft_on) -> std::optional<GraftDay> {
    if (graft_on < request.made_on) return std::nullopt;
    const auto ages = ages_allowed(request, course, graft_on);
    for (const LotSpeed& speed : to_sow) {
      if (!can_be_graftable(course, speed, ages)) return std::nullopt;
    }
    const bool late = graft_on > deadline;
    return GraftDay{graft_on, late, shifts_around(request, graft_on, late ? Day::max() : deadline)};
  };
  if (const auto best = work_day_before(request.season, latest, kEarlier)) {
    if (auto day = at(*best)) return day;
  }
  const Day first = std::max(latest, request.made_on);
  for (Day day = first; day < first + kLater; day += std::chrono::days(1)) {
    if (!is_work_day(request.season, day)) continue;
    if (auto found = at(day)) return found;
  }
  return std::nullopt;
}

}  // namespace takehold::client
