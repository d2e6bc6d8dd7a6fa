// The chamber's last hours as a chart in characters.
#pragma once

#include <string>
#include <vector>

#include "client/terminal/screen_line.hpp"
#include "daemon/api/status_message.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

struct PastAir {
  const daemon::StatusMessage& status;
  const daemon::ReadingsMessage& past;
  const sensors::TimeZone& zone;
  const TerminalStyle& style;
};

/// A title and a chart, `height` lines in all, at most `width` columns. What is asked for now is
/// dotted from the moment on since when it is asked. None: nothing was read.
std::vector<ScreenLine> temperature_chart(const PastAir& air, int width, int height);
std::vector<ScreenLine> humidity_chart(const PastAir& air, int width, int height);

}  // namespace takehold::client
