// A batch as the watch knows it: which healing plan it follows, and since when.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "daemon/healing/regime.hpp"
#include "daemon/healing/stage_at.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

struct Batch {
  std::string label;
  std::string pairing;  ///< may be empty
  std::optional<std::int64_t> count;
  Regime regime;
  std::vector<ManualEvent> events;
  sensors::Instant entered_at;
  std::optional<sensors::Instant> left_at;
  std::string book;           ///< the book it came from; empty: the settings
  std::int64_t revision = 0;  ///< of that book, rising

  bool from_settings() const { return book.empty(); }
  bool in_chamber(sensors::Instant at) const {
    return entered_at <= at && (!left_at || at < *left_at);
  }
};

}  // namespace takehold::daemon
