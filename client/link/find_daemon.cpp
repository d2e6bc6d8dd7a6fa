#include "client/link/find_daemon.hpp"

#include <cstdlib>
#include <utility>

namespace takehold::client {
namespace {

using daemon::Endpoint;
using sensors::Result;

std::optional<std::string> variable(const char* name) {
  const char* text = std::getenv(name);
  if (text == nullptr) return std::nullopt;
  return std::string(text);
}

Endpoint socket(const std::filesystem::path& path) {
  Endpoint endpoint;
  endpoint.kind = Endpoint::Kind::unix_socket;
  endpoint.host = path.string();
  return endpoint;
}

}  // namespace

Result<Endpoint> find_daemon(const DaemonNames& names) {
  const std::pair<const char*, const std::optional<std::string>*> named[] = {
      {"--daemon", &names.option},
      {"TAKEHOLD_DAEMON", &names.environment},
      {"the setting daemon", &names.setting}};
  for (const auto& [where, text] : named) {
    if (!*text || (*text)->empty()) continue;
    auto endpoint = Endpoint::parse(**text);
    if (endpoint) return endpoint;
    sensors::Problem problem = endpoint.error();
    problem.where = where;
    return problem;
  }
  std::error_code none;
  if (names.runtime_dir && !names.runtime_dir->empty()) {
    const auto own = std::filesystem::path(*names.runtime_dir) / "takehold" / "chamberd.sock";
    if (std::filesystem::exists(own, none) || !std::filesystem::exists(names.system_socket, none))
      return socket(own);
  }
  return socket(names.system_socket);
}

Result<Endpoint> find_daemon(const std::optional<std::string>& option,
                             const std::optional<std::string>& setting) {
  DaemonNames names;
  names.option = option;
  names.environment = variable("TAKEHOLD_DAEMON");
  names.setting = setting;
  names.runtime_dir = variable("XDG_RUNTIME_DIR");
  return find_daemon(names);
}

}  // namespace takehold::client
