// One connection: requests and answers until either side has enough.
#pragma once

#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/local/stream_protocol.hpp>

#include "daemon/io/asio.hpp"
#include "daemon/io/gate.hpp"
#include "daemon/io/interface.hpp"
#include "daemon/io/live_stream.hpp"

namespace takehold::daemon {

/// Over the Unix socket: no gate, the file's mode is the right.
awaitable<void> run_session(asio::local::stream_protocol::socket socket, Interface& interface,
                            LiveStream& live, const Gate* gate);
/// Over TCP: every request passes `gate`.
awaitable<void> run_session(asio::ip::tcp::socket socket, Interface& interface, LiveStream& live,
                            const Gate* gate);

}  // namespace takehold::daemon
