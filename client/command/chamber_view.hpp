// The chamber as shown, once by `chamber` and over and over by `watch`.
#pragma once

#include <string>
#include <vector>

#include "client/terminal/live_screen.hpp"
#include "client/terminal/numbers.hpp"
#include "daemon/api/status_message.hpp"

namespace takehold::client {

/// The same in parts, for a screen that arranges them itself.
struct ChamberParts {
  ScreenLine head;
  std::vector<ScreenLine> air;  ///< each value with its band
  std::vector<ScreenLine> batches, warnings, probes;
};
/// `gauges`: behind each value a bar that shows where in its band it stands.
ChamberParts chamber_parts(const daemon::StatusMessage& status, sensors::Instant now,
                           const TerminalStyle& style, bool gauges);

/// First line: what it is now, whether that is right, when the next stage comes. Then each value
/// with its band, the batches, the warnings that stand, the probes with the age of their reading.
std::vector<ScreenLine> chamber_lines(const daemon::StatusMessage& status, sensors::Instant now,
                                      Units units);

/// Only the first line and the warnings: for a screen that is about more than the chamber.
std::vector<ScreenLine> chamber_brief(const daemon::StatusMessage& status, Units units);

}  // namespace takehold::client
