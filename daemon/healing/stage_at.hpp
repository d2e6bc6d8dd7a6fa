// Which stage a batch is in. One pure function that both programs call: the client keeps what the
// grower decided, the daemon is told it, and both come to the same answer. A stage that passes by
// itself is never recorded.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "daemon/healing/regime.hpp"

namespace takehold::daemon {

/// By the regime's own hours. For an hour after a change it is `between`: no air cools or warms at
/// once, so that both bands, and what lies between them, are right.
enum class Daylight { day, between, night };

struct StageNow {
  std::size_t index = 0;                 ///< into regime.stages; stages.size() once all are over
  bool over = false;                     ///< all stages are over
  sensors::Instant since;                ///< begin of this stage, or of being over
  std::optional<sensors::Instant> next;  ///< when it ends by itself, or null when over
  /// How far a moving band has moved, 0 to 1. It stands still while a hold lasts: a batch held at
  /// 90 % stays at 90 %, and goes on from there.
  double progress = 0.0;
  Daylight daylight = Daylight::day;  ///< day, where the regime knows no nights

  friend bool operator==(const StageNow&, const StageNow&) = default;
};

/// A stage lasts from `since` up to and not including `next`. Events may come in any order; those
/// after `now` or before `entered_at` do not count, nor does a hold or an advance once all is over;
/// `back` then begins the last stage again. Before `entered_at` it is the first stage.
/// `regime` must have a stage.
StageNow stage_at(const Regime& regime, sensors::Instant entered_at,
                  std::span<const ManualEvent> events, sensors::Instant now);

/// At `at`, by the regime's hours and time zone; one that is unknown counts as UTC.
Daylight daylight_at(const Regime& regime, sensors::Instant at);

/// The stage's name, or "done" once all are over.
std::string_view stage_name(const Regime& regime, const StageNow& now);

}  // namespace takehold::daemon
