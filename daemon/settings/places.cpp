#include <cstdlib>

#include "daemon/settings/settings.hpp"

namespace takehold::daemon {
namespace {

std::filesystem::path variable(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr ? value : "";
}

std::filesystem::path home() {
  const auto path = variable("HOME");
  return path.empty() ? std::filesystem::path("/") : path;
}

}  // namespace

Places Places::of_environment() {
  Places places;
  if (const auto state = variable("STATE_DIRECTORY"); !state.empty()) {
    places.state = state;
  } else if (const auto xdg = variable("XDG_STATE_HOME"); !xdg.empty()) {
    places.state = xdg / "takehold";
  } else {
    places.state = home() / ".local/state/takehold";
  }
  if (const auto runtime = variable("RUNTIME_DIRECTORY"); !runtime.empty()) {
    places.runtime = runtime;
  } else if (const auto xdg = variable("XDG_RUNTIME_DIR"); !xdg.empty()) {
    places.runtime = xdg / "takehold";
  } else {
    places.runtime = "/run/takehold";
  }
  return places;
}

}  // namespace takehold::daemon
