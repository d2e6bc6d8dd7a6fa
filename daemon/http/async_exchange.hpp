// The same exchange for the daemon, which waits for many things at once.
#pragma once

#include <boost/asio/awaitable.hpp>

#include "daemon/http/exchange.hpp"

namespace takehold::daemon {

/// As exchange, on the executor of the calling coroutine. Cancelling it ends it with "timeout" or
/// "connection-lost".
boost::asio::awaitable<sensors::Result<HttpResponse>> async_exchange(Endpoint endpoint,
                                                                     HttpRequest request,
                                                                     HttpLimits limits);

}  // namespace takehold::daemon
