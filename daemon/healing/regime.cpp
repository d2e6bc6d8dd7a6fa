#include "daemon/healing/regime.hpp"

namespace takehold::daemon {

bool Stage::moves() const {
  const auto moving = [](const auto& ramp) { return ramp && !ramp->is_level(); };
  return moving(temperature) || moving(humidity) || moving(vapour_deficit);
}

std::chrono::minutes whole_length(const Regime& regime) {
  std::chrono::minutes sum{0};
  for (const Stage& stage : regime.stages) sum += stage.length;
  return sum;
}

std::optional<StagePlace> stage_place(std::string_view text) {
  for (const auto place : {StagePlace::chamber, StagePlace::bench}) {
    if (to_string(place) == text) return place;
  }
  return std::nullopt;
}

std::optional<EventKind> event_kind(std::string_view text) {
  for (const auto kind : {EventKind::advance, EventKind::hold, EventKind::back}) {
    if (to_string(kind) == text) return kind;
  }
  return std::nullopt;
}

}  // namespace takehold::daemon
