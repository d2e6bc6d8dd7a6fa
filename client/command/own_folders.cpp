#include "client/command/own_folders.hpp"

#include <cstdlib>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

namespace fs = std::filesystem;

fs::path environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

/// $`variable`/takehold, else $HOME/`below_home`/takehold, else empty. A relative path in the
/// variable is to be ignored.
fs::path own_folder(const char* variable, const char* below_home) {
  const fs::path asked = environment(variable);
  if (asked.is_absolute()) return asked / "takehold";
  const fs::path home = environment("HOME");
  return home.empty() ? fs::path() : home / below_home / "takehold";
}

}  // namespace

std::vector<fs::path> settings_folders() {
  std::vector<fs::path> folders;
  if (auto own = own_folder("XDG_CONFIG_HOME", ".config"); !own.empty()) {
    folders.push_back(std::move(own));
  }
  folders.emplace_back("/etc/takehold");
  return folders;
}

fs::path data_folder() {
  fs::path folder = own_folder("XDG_DATA_HOME", ".local/share");
  if (!folder.empty()) return folder;
  throw sensors::Refused({"no-home", "there is no place for the book",
                          "neither XDG_DATA_HOME nor HOME is set", "", "say where: --book FILE"});
}

}  // namespace takehold::client
