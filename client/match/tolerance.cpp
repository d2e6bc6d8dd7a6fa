#include "client/match/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace takehold::client {
namespace {

constexpr std::int64_t kEveryPair = 200'000;  // thousandths of a percent: |x - y| <= x + y

}  // namespace

Tolerance Tolerance::percent_of_mean(double percent) {
  const double kept = std::clamp(percent, 0.0, 200.0);
  return Tolerance(std::llround(kept * 1000.0), std::nullopt);
}

Tolerance Tolerance::absolute(sensors::Millimetres limit) {
  return Tolerance(kEveryPair, std::max<Micrometres>(0, limit.um()));
}

Tolerance Tolerance::unlimited() {
  return Tolerance(kEveryPair, std::nullopt);
}

Tolerance Tolerance::with_rootstock_thinner_by_at_most(sensors::Millimetres limit) const {
  Tolerance narrower = *this;
  narrower.thinner_by_ = std::max<Micrometres>(0, limit.um());
  return narrower;
}

bool Tolerance::allows(Micrometres rootstock, Micrometres scion) const {
  const Micrometres apart = std::abs(rootstock - scion);
  if (thinner_by_ && scion - rootstock > *thinner_by_) return false;
  if (absolute_) return apart <= *absolute_;
  // |x - y| <= (p/1000)/100 (x + y)/2, cleared of fractions; for 10 % it is 20 |x - y| <= x + y.
  return kEveryPair * apart <= percent_thousandths_ * (rootstock + scion);
}

}  // namespace takehold::client
