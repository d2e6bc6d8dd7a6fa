// Connecting to an endpoint, for the coroutines of this folder only.
//
// `over_connection` opens the right kind of stream and lets `task` talk over it: task is an object
// with  template <class Stream> awaitable<void> talk(Stream&).  Whatever Boost throws on the way
// becomes a Problem.
#pragma once

#include <boost/asio/awaitable.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/local/stream_protocol.hpp>
#include <boost/asio/ssl/context.hpp>
#include <boost/asio/ssl/host_name_verification.hpp>
#include <boost/asio/ssl/stream.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/core/basic_stream.hpp>
#include <boost/beast/core/stream_traits.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/message.hpp>
#include <boost/beast/http/string_body.hpp>
#include <exception>
#include <optional>

#include "daemon/http/exchange.hpp"

namespace takehold::daemon {

using UnixStream = boost::beast::basic_stream<boost::asio::local::stream_protocol>;
using TlsStream = boost::asio::ssl::stream<boost::beast::tcp_stream>;

boost::asio::awaitable<void> connect(UnixStream& stream, const Endpoint& endpoint,
                                     const HttpLimits& limits);
boost::asio::awaitable<void> connect(boost::beast::tcp_stream& stream, const Endpoint& endpoint,
                                     const HttpLimits& limits);
/// With the greeting of TLS.
boost::asio::awaitable<void> connect(TlsStream& stream, const Endpoint& endpoint,
                                     const HttpLimits& limits);
boost::asio::ssl::context tls_context(const HttpLimits& limits);

/// Throws Refused "bad-request" for what would break the wire. `keep`: the connection shall stay.
boost::beast::http::request<boost::beast::http::string_body> wire_request(
    const Endpoint& endpoint, const HttpRequest& request, bool keep = false);

/// What an exception caught here means. `connected`: it came after connecting.
sensors::Problem problem_of(std::exception_ptr failure, const Endpoint& endpoint, bool connected);

template <class Stream, class Task>
boost::asio::awaitable<void> talk_over(Stream& stream, const Endpoint& endpoint,
                                       const HttpLimits& limits, Task& task, bool& connected) {
  co_await connect(stream, endpoint, limits);
  connected = true;
  boost::beast::get_lowest_layer(stream).expires_after(limits.total);
  co_await task.talk(stream);
  boost::beast::get_lowest_layer(stream).close();
}

template <class Task>
boost::asio::awaitable<std::optional<sensors::Problem>> over_connection(const Endpoint& endpoint,
                                                                        const HttpLimits& limits,
                                                                        Task& task) {
  const auto executor = co_await boost::asio::this_coro::executor;
  bool connected = false;
  std::exception_ptr failure;
  try {
    if (endpoint.kind == Endpoint::Kind::unix_socket) {
      UnixStream stream(executor);
      co_await talk_over(stream, endpoint, limits, task, connected);
    } else if (endpoint.kind == Endpoint::Kind::tcp) {
      boost::beast::tcp_stream stream(executor);
      co_await talk_over(stream, endpoint, limits, task, connected);
    } else {
      auto context = tls_context(limits);
      TlsStream stream(executor, context);
      co_await talk_over(stream, endpoint, limits, task, connected);
    }
  } catch (...) {
    failure = std::current_exception();
  }
  if (!failure) co_return std::nullopt;
  co_return problem_of(failure, endpoint, connected);
}

}  // namespace takehold::daemon
