// What probe-sim was asked for.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "sensors/sim/scene.hpp"
#include "sensors/sim/wording.hpp"

namespace takehold::sensors {

/// Ports that stay open until a signal. Each is a probe of its own: text first, then Modbus, then
/// HTTP, numbered from 1 in that order.
struct LiveOptions {
  std::vector<std::string> text_links;
  std::vector<std::string> modbus_links;
  std::optional<int> http_port;  ///< 0: any free one
  int unit = 1;                  ///< the first on each Modbus line
  int units = 1;                 ///< on each Modbus line
  Wording wording = Wording::letters;
  std::chrono::milliseconds every{1000};  ///< between two lines, on the wall's clock
  double speed = 1.0;                     ///< simulated seconds in a real one

  int probes() const {
    return int(text_links.size()) + units * int(modbus_links.size()) + (http_port ? 1 : 0);
  }
};

/// A table of readings, written at once.
struct TraceOptions {
  std::string file;  ///< "-": standard output
  std::chrono::seconds length{24 * 3600};
  std::chrono::milliseconds every{10'000};  ///< simulated
};

}  // namespace takehold::sensors
