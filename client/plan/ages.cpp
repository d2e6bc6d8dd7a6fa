#include "client/plan/ages.hpp"

#include <cmath>
#include <vector>

namespace takehold::client {
namespace {

// How much a scion off the aimed diameter weighs against a difference between the two stems.
constexpr double kAimWeight = 0.1;

struct Candidate {
  int days;
  Seedling seedling;
};

std::vector<Candidate> graftable_ages(const Course& course, const LotSpeed& speed,
                                      const std::function<bool(int days)>& may_sow) {
  std::vector<Candidate> candidates;
  const int longest = static_cast<int>(course.length().count());
  for (int days = 1; days <= longest; ++days) {
    const auto seedling = middle_seedling(course, speed, StemGrowth{}, Age(days));
    if (!seedling || !Graftable{}.holds(seedling->heat, seedling->diameter)) continue;
    if (may_sow(days)) candidates.push_back({days, *seedling});
  }
  return candidates;
}

}  // namespace

std::optional<GraftAges> choose_ages(const Course& course, const LotSpeed& rootstock,
                                     const LotSpeed& scion,
                                     const std::function<bool(int days)>& may_sow) {
  const auto below = graftable_ages(course, rootstock, may_sow);
  const auto above = graftable_ages(course, scion, may_sow);
  std::optional<GraftAges> best;
  double least = INFINITY;
  for (const Candidate& s : above) {
    for (const Candidate& r : below) {
      const double apart = std::log(r.seedling.diameter / s.seedling.diameter);
      const double off = std::log(s.seedling.diameter / kAimedDiameter);
      const double badness = apart * apart + kAimWeight * off * off;
      if (badness >= least) continue;
      least = badness;
      best = GraftAges{r.days, s.days, r.seedling, s.seedling};
    }
  }
  return best;
}

}  // namespace takehold::client
