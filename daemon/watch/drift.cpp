#include "daemon/watch/drift.hpp"

#include <algorithm>

namespace takehold::daemon {

using sensors::Instant;
using std::chrono::milliseconds;
using namespace std::chrono_literals;

namespace {

constexpr double kLikely = 0.5;
constexpr double kUnlikely = 0.2;
constexpr auto kLapse = 40s;    // so long it may look harmless before it counts as over
constexpr auto kCalm = 5min;    // before a standing one is taken back
constexpr auto kPause = 60min;  // before the same is said again

}  // namespace

Drift::Verdict Drift::see(Instant at, const Prospect& prospect) {
  if (standing_) return watch_standing(at, prospect);
  const bool speaks = prospect.unusual && prospect.outlook &&
                      prospect.outlook->probability >= kLikely && prospect.outlook->until > 0s;
  note_coming(at, prospect);
  if (!speaks) {
    if (last_bad_ && at - *last_bad_ > kLapse) {
      since_.reset();
      last_bad_.reset();
    }
    return Verdict::nothing;
  }
  if (!since_) since_ = at;
  last_bad_ = at;
  if (may_pass(at, prospect)) return Verdict::nothing;
  if (ended_at_ && at - *ended_at_ < kPause) return Verdict::nothing;
  standing_ = true;
  return Verdict::raised;
}

/// A slow drift is seen coming for long before its end comes within the horizon.
void Drift::note_coming(Instant at, const Prospect& prospect) {
  if (prospect.unusual && prospect.outlook) {
    if (!coming_since_) coming_since_ = at;
    last_coming_ = at;
  } else if (last_coming_ && at - *last_coming_ > (prospect.unusual ? kCalm : kLapse)) {
    coming_since_.reset();
    last_coming_.reset();
  }
}

bool Drift::may_pass(Instant at, const Prospect& prospect) const {
  if (at - *since_ < patience_) return true;
  if (at - *coming_since_ < prospect.outlook->until / evidence_share_) return true;
  if (prospect.recovering) return true;
  return prospect.hasty_since && at - *prospect.hasty_since < hasty_patience_;
}

Drift::Verdict Drift::watch_standing(Instant at, const Prospect& prospect) {
  const bool fading =
      !prospect.outlook || prospect.outlook->probability < kUnlikely || !prospect.unusual;
  if (!fading) last_bad_ = at;
  if (last_bad_ && at - *last_bad_ < (prospect.unusual ? kCalm : kCalm / 5)) {
    return Verdict::nothing;
  }
  end(at);
  return Verdict::cleared;
}

void Drift::end(Instant at) {
  standing_ = false;
  since_.reset();
  last_bad_.reset();
  coming_since_.reset();
  last_coming_.reset();
  ended_at_ = at;
}

void Drift::resume(Instant since) {
  standing_ = true;
  since_ = last_bad_ = since;
}

}  // namespace takehold::daemon
