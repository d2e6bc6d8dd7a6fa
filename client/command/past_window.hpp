// Which readings the live charts still lack: a column that is over is not asked for again. Pure.
#pragma once

#include <chrono>
#include <optional>

#include "client/link/link.hpp"
#include "daemon/api/reading_message.hpp"

namespace takehold::client {

/// Columns of one length on a fixed grid of time; the last is still filling up.
struct PastWindow {
  sensors::Instant to;
  std::chrono::milliseconds step{};
  int columns = 0;

  sensors::Instant from() const { return to - step * columns; }
};

/// The `span` up to `now`, in `columns` columns.
PastWindow past_window(std::chrono::milliseconds span, int columns, sensors::Instant now);

/// What of `window` is not in `past` yet: its columns from the last one of `past` on, for that was
/// still filling up. All of it, where `past` is none, of other columns or ends elsewhere.
ReadingsWanted missing_of(const PastWindow& window,
                          const std::optional<daemon::ReadingsMessage>& past);

/// `past` moved on to `window` with `newer`, the answer to missing_of. None: they do not fit (a
/// probe came or went): ask for all.
std::optional<daemon::ReadingsMessage> moved_on(const PastWindow& window,
                                                const std::optional<daemon::ReadingsMessage>& past,
                                                daemon::ReadingsMessage newer);

}  // namespace takehold::client
