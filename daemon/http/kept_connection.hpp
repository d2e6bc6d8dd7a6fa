// A connection that stays open from one exchange to the next, for a server that is asked often.
#pragma once

#include <boost/asio/awaitable.hpp>
#include <memory>

#include "daemon/http/exchange.hpp"

namespace takehold::daemon {

/// One owner, one exchange at a time, on one executor.
class KeptConnection {
 public:
  explicit KeptConnection(Endpoint endpoint);
  ~KeptConnection();

  /// As async_exchange; the connection is left open if the server agrees. One that the server
  /// closed meanwhile is opened anew and the request sent again, once: only requests that may be
  /// repeated.
  boost::asio::awaitable<sensors::Result<HttpResponse>> exchange(HttpRequest request,
                                                                 HttpLimits limits);
  void close();

 private:
  struct Line;
  boost::asio::awaitable<sensors::Result<HttpResponse>> attempt(const HttpRequest& request,
                                                                const HttpLimits& limits,
                                                                bool& stale);

  Endpoint endpoint_;
  std::unique_ptr<Line> line_;
};

}  // namespace takehold::daemon
