// One request, one answer: blocking, bounded in time and size, without Asio in sight.
#pragma once

#include <chrono>
#include <map>
#include <string>
#include <vector>

#include "daemon/http/endpoint.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

struct HttpRequest {
  std::string method = "GET";
  std::string target = "/";  ///< with its query, percent-encoded
  std::vector<std::pair<std::string, std::string>> headers = {};  ///< besides Host, lengths
  std::string body = {};
};

struct HttpResponse {
  int status = 0;
  std::map<std::string, std::string> headers;  ///< names in lower case
  std::string body = {};
};

struct HttpLimits {
  std::chrono::milliseconds connect{300};  ///< finding the host and connecting
  std::chrono::milliseconds total{5000};   ///< from then on, with the greeting of TLS
  std::uint32_t header_bytes = 8 * 1024;
  std::uint64_t body_bytes = 1024 * 1024;
  std::string ca_file = {};  ///< trusted besides the system's authorities; empty: none
};

/// Sends and waits. Any status is an answer; redirects are not followed; the connection is closed.
/// Certificates of TLS are checked, name and all. Codes, `where` the endpoint:
///   "connect-failed"   no such socket or host, refused
///   "timeout"          while connecting or later
///   "connection-lost"  closed in the middle
///   "too-large"        header or body above the limits
///   "bad-answer"       not HTTP
///   "tls-failed"       no trusted certificate of that name
///   "bad-request"      method, target or a header holds what cannot be sent
sensors::Result<HttpResponse> exchange(const Endpoint& endpoint, const HttpRequest& request,
                                       const HttpLimits& limits = {});

}  // namespace takehold::daemon
