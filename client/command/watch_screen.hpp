// What `watch` shows, as lines: pure, so that every size and state can be tried without a terminal.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "client/terminal/screen_line.hpp"
#include "daemon/api/status_message.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

struct Watched {
  std::optional<daemon::StatusMessage> status{};  ///< the last that came
  std::optional<daemon::ReadingsMessage> past{};  ///< the last hours, all probes
  std::string trouble{};                          ///< why there is no newer; empty: all is well
  std::optional<sensors::Instant> trouble_since{};
  std::chrono::steady_clock::time_point heard_at{};  ///< when `status` came
  std::optional<sensors::Instant> whole_at{};        ///< when all of `past` was asked for
};

struct WatchView {
  int columns = 80;
  int rows = 24;
  std::chrono::hours span{6};  ///< of the charts
  std::string answer{};        ///< of the last key, until the next
  TerminalStyle style{};
};

/// From the top: what it is now and whether that is right, the warnings, each value with its place
/// in its band, the forecast, the batches, charts of the last hours in what room is left, probes,
/// keys in the last row. Fills `rows` exactly; what matters most goes last when room is short.
std::vector<ScreenLine> watch_screen(const Watched& watched, const WatchView& view,
                                     sensors::Instant now, const sensors::TimeZone& zone);

}  // namespace takehold::client
