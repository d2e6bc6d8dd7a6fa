#include "daemon/io/service.hpp"

#include <systemd/sd-daemon.h>
#include <time.h>

#include <cstdint>
#include <string>

namespace takehold::daemon {

void tell_ready() {
  ::sd_notify(0, "READY=1");
}
void tell_reloading() {
  timespec now{};
  ::clock_gettime(CLOCK_MONOTONIC, &now);
  const auto microseconds = std::int64_t(now.tv_sec) * 1000000 + now.tv_nsec / 1000;
  ::sd_notify(0, ("RELOADING=1\nMONOTONIC_USEC=" + std::to_string(microseconds)).c_str());
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
