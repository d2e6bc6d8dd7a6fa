// Where the daemon may be found.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "daemon/http/endpoint.hpp"

namespace takehold::client {

/// What may name it, in the order in which they count. Empty text is as good as none.
struct DaemonNames {
  std::optional<std::string> option{};       ///< --daemon
  std::optional<std::string> environment{};  ///< $TAKEHOLD_DAEMON
  std::optional<std::string> setting{};      ///< of takehold.toml
  std::optional<std::string> runtime_dir{};  ///< $XDG_RUNTIME_DIR
  std::filesystem::path system_socket = "/run/takehold/chamberd.sock";
};

/// The first that is named: "unix:PATH", "http://host:port" or "https://..."; else the grower's own
/// socket if it is there; else the system's. Code "bad-address", `where` telling which name is bad.
sensors::Result<daemon::Endpoint> find_daemon(const DaemonNames& names);

/// The same with the environment variables of this process.
sensors::Result<daemon::Endpoint> find_daemon(const std::optional<std::string>& option,
                                              const std::optional<std::string>& setting);

}  // namespace takehold::client
