// What the service manager is told, if there is one: ready, stopping, alive.
#pragma once

#include <chrono>
#include <optional>

namespace takehold::daemon {

void tell_ready();
/// Until the next tell_ready().
void tell_reloading();
void tell_stopping();
void tell_alive();
/// How often it wants to hear, or none.
std::optional<std::chrono::milliseconds> watchdog_period();

}  // namespace takehold::daemon
