#include "client/plan/age_pairs.hpp"

#include <algorithm>

#include "client/growth/stem.hpp"

namespace takehold::client {
namespace {

// Middle seedlings further than this from a graftable size are not tried: even a lot two standard
// deviations off (vigour sd 0.20) is hardly graftable then.
constexpr double kThinnestMiddle = 1.3;  // mm
constexpr double kThickestMiddle = 3.0;
constexpr double kUnlike = 0.3;  // ln of the ratio of middle diameters
constexpr double kLeeway = 0.1;  // beyond the most alike that the allowed days leave

double ln_middle(const PlannedPart& part, int age) {
  const auto middle =
      middle_seedling(*part.course, part.lot.middle_speed(), StemGrowth{}, Age(age));
  return middle ? std::log(middle->diameter.mm()) : -INFINITY;
}

std::vector<MiddleSeedling> middle_seedlings(const AgeSide& side) {
  if (side.ages.empty()) {
    // Fixed parts: the largest stands for the side.
    const auto main = std::max_element(
        side.plan.parts.begin(), side.plan.parts.end(),
        [](const PlannedPart& a, const PlannedPart& b) { return a.sown < b.sown; });
    return {{0, ln_middle(*main, main->days_to_graft)}};
  }
  std::vector<MiddleSeedling> found;
  for (const int age : side.ages) {
    const double ln_mm = ln_middle(side.plan.parts.front(), age);
    if (ln_mm < std::log(kThinnestMiddle) || ln_mm > std::log(kThickestMiddle)) continue;
    found.push_back({age, ln_mm});
  }
  return found;
}

}  // namespace

std::vector<AgePair> ages_worth_trying(const AgeSide& rootstock, const AgeSide& scion) {
  std::vector<AgePair> pairs;
  double least = INFINITY;
  for (const MiddleSeedling& r : middle_seedlings(rootstock)) {
    for (const MiddleSeedling& s : middle_seedlings(scion)) {
      pairs.push_back({r, s});
      least = std::min(least, pairs.back().apart());
    }
  }
  const double most = std::max(kUnlike, least + kLeeway);
  std::erase_if(pairs, [&](const AgePair& pair) { return pair.apart() > most; });
  return pairs;
}

}  // namespace takehold::client
