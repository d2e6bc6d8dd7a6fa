#include "daemon/watch/wording.hpp"

#include <fmt/format.h>

namespace takehold::daemon {

using namespace std::chrono_literals;

std::string worded(sensors::Celsius value) {
  return fmt::format("{:.1f} degC", value.degc());
}
std::string worded(sensors::RelativeHumidity value) {
  return fmt::format("{:.1f} %", value.pct());
}
std::string worded(sensors::Pressure value) {
  return fmt::format("{:.2f} kPa", value.kpa());
}

std::string worded(std::chrono::milliseconds span) {
  if (span < 2min) return fmt::format("{} s", span / 1s);
  if (span < 2h) return fmt::format("{} min", span / 1min);
  return fmt::format("{} h", span / 1h);
}

std::string worded(const Band<sensors::Celsius>& band) {
  return fmt::format("{:g}-{:g} degC", band.low.degc(), band.high.degc());
}

std::string worded(const Band<sensors::RelativeHumidity>& band) {
  return fmt::format("{:.3g}-{:.3g} %", band.low.pct(), band.high.pct());
}

std::string worded(const Band<sensors::Pressure>& band) {
  return fmt::format("{:.2f}-{:.2f} kPa", band.low.kpa(), band.high.kpa());
}

}  // namespace takehold::daemon
