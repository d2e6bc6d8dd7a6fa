#include "daemon/io/service.hpp"

#include <systemd/sd-daemon.h>

namespace takehold::daemon {

void tell_ready() {
  ::sd_notify(0, "READY=1");
}
void tell_stopping() {
  ::sd_notify(0, "STOPPING=1");
}
void tell_alive() {
  ::sd_notify(0, "WATCHDOG=1");
}

std::optional<std::chrono::milliseconds> watchdog_period() {
  std::uint64_t microseconds = 0;
  if (::sd_watchdog_enabled(0, &microseconds) <= 0) return std::nullopt;
  return std::chrono::milliseconds(microseconds / 1000);
}

}  // namespace takehold::daemon
