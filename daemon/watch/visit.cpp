#include "daemon/watch/visit.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kAftermath = 20min;  // what a visit brings about is no ordinary air for this long
constexpr auto kOneVisit = 3min;    // water or warmth lost anew after this is another visit
constexpr auto kItselfFor = 5min;   // so long as usual, and it has recovered
constexpr auto kRecovers = 45min;

}  // namespace

bool Visit::see(Instant at, Haste haste, bool as_usual) {
  if (haste == Haste::loss) {
    if (!since_ || !lost_at_ || at - *lost_at_ > kOneVisit) since_ = at;
    lost_at_ = at;
  }
  if (haste != Haste::none) {
    if (!since_) since_ = at;
    hasty_at_ = at;
  }
  if (!as_usual || haste != Haste::none)
    usual_since_.reset();
  else if (!usual_since_)
    usual_since_ = at;
  if (hasty_at_ && at - *hasty_at_ > kAftermath && !recovering(at)) since_.reset();
  return since_.has_value() && hasty_at_ && at - *hasty_at_ <= kAftermath;
}

bool Visit::recovering(Instant at) const {
  if (!since_ || at - *since_ > kRecovers) return false;
  return !usual_since_ || at - *usual_since_ < kItselfFor;
}

}  // namespace takehold::daemon
