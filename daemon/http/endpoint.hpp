// Where a server is: "unix:/run/takehold/chamberd.sock", "http://127.0.0.1:7453", "https://...".
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

struct Endpoint {
  enum class Kind { unix_socket, tcp, tls };

  Kind kind = Kind::unix_socket;
  std::string host;        ///< name or address, IPv6 without brackets; of a Unix socket its path
  std::uint16_t port = 0;  ///< of TCP and TLS; default 80 and 443

  /// An address without a path. Code "bad-address".
  static sensors::Result<Endpoint> parse(std::string_view text);
  std::string text() const;         ///< reads back as the same endpoint
  std::string host_header() const;  ///< what goes into Host; "chamber" for a Unix socket

  friend bool operator==(const Endpoint&, const Endpoint&) = default;
};

/// A whole URL: a server and what to ask it for.
struct HttpAddress {
  Endpoint endpoint;
  std::string target;  ///< "/" or more, with its query

  /// "http://..." or "https://..."; no user, no fragment. Code "bad-address".
  static sensors::Result<HttpAddress> parse(std::string_view text);
};

}  // namespace takehold::daemon
