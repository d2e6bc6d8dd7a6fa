#include "client/plan/chamber_bands.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

daemon::BatchAsks asks_at(const ChamberStay& stay, sensors::Instant now, const char* label) {
  const auto stage = daemon::stage_at(stay.regime, stay.entered_at, stay.events, now);
  return {label, stay.entered_at, daemon::chamber_asks(stay.regime, stage).asks};
}

}  // namespace

sensors::Instant leaves_at(const ChamberStay& stay) {
  auto now = daemon::stage_at(stay.regime, stay.entered_at, stay.events, stay.entered_at);
  for (;;) {
    const bool on_bench =
        now.over || stay.regime.stages[now.index].where == daemon::StagePlace::bench;
    if (on_bench || !now.next) return now.since;
    now = daemon::stage_at(stay.regime, stay.entered_at, stay.events, *now.next);
  }
}

BandHours colliding_hours(const ChamberStay& a, const ChamberStay& b) {
  constexpr auto kMiddle = std::chrono::minutes(30);
  BandHours hours;
  const auto until = std::min(leaves_at(a), leaves_at(b));
  for (auto at = std::max(a.entered_at, b.entered_at); at < until; at += std::chrono::hours(1)) {
    const std::vector<daemon::BatchAsks> both{asks_at(a, at + kMiddle, "a"),
                                              asks_at(b, at + kMiddle, "b")};
    bool air = false, light = false;
    for (const daemon::AskConflict& conflict : daemon::shared_asks(both).conflicts) {
      (conflict.about == "light" ? light : air) = true;
    }
    hours.air += air ? 1 : 0;
    hours.light += light ? 1 : 0;
  }
  return hours;
}

}  // namespace takehold::client
