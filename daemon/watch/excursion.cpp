#include "daemon/watch/excursion.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kSoonAgain = 60min;
constexpr auto kStaysInside = 20min;

}  // namespace

Excursion::Verdict Excursion::see(Instant at, Place place) {
  if (place == Place::below || place == Place::above) return outside(at, place);
  if (!standing_) {
    since_.reset();  // what was not seen outside does not count towards the delay
    return Verdict::nothing;
  }
  const bool at_its_edge = (side_ == Place::below && place == Place::low_edge) ||
                           (side_ == Place::above && place == Place::high_edge);
  if (place == Place::unknown || at_its_edge) return Verdict::nothing;
  if (!inside_since_) inside_since_ = at;
  if (chatters_ && place != Place::free && at - *inside_since_ < kStaysInside) {
    return Verdict::nothing;
  }
  since_.reset();
  standing_ = false;
  cleared_at_ = at;
  return Verdict::cleared;
}

Excursion::Verdict Excursion::outside(Instant at, Place place) {
  if (!since_ || (!standing_ && side_ != place)) since_ = at;
  side_ = place;
  inside_since_.reset();
  return wait(at);
}

Excursion::Verdict Excursion::wait(Instant at) {
  const auto time = due();
  if (!time || at < *time) return Verdict::nothing;
  standing_ = true;
  chatters_ = cleared_at_ && at - *cleared_at_ < kSoonAgain;
  return Verdict::raised;
}

std::optional<Instant> Excursion::due() const {
  if (standing_ || !since_) return std::nullopt;
  return *since_ + on_delay_;
}

}  // namespace takehold::daemon
