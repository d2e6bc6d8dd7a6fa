#include "daemon/io/session.hpp"

#include <spdlog/spdlog.h>
#include <sys/socket.h>

#include <array>
#include <boost/asio/write.hpp>
#include <boost/beast/core/basic_stream.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http/message.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/string_body.hpp>
#include <boost/beast/http/write.hpp>
#include <charconv>
#include <sstream>
#include <utility>

#include "daemon/io/messages.hpp"

namespace takehold::daemon {

namespace beast = boost::beast;
namespace http = boost::beast::http;
using namespace std::chrono_literals;

namespace {

constexpr std::uint32_t kMostHeader = 8 * 1024;
constexpr std::uint64_t kMostBody = 1024 * 1024;
constexpr auto kRequestTime = 10s;
constexpr auto kIdleTime = 60s;
constexpr auto kKeepAlive = 15s;  ///< a comment this often keeps an event stream from being cut

using Incoming = http::request<http::string_body>;
using Outgoing = http::response<http::string_body>;

std::string text_of(beast::string_view view) {
  return {view.data(), view.size()};
}

Outgoing outgoing(Response response, const Incoming& asked) {
  Outgoing out(static_cast<http::status>(response.status), asked.version());
  out.set(http::field::server, kProgram);
  if (!response.content_type.empty()) out.set(http::field::content_type, response.content_type);
  if (!response.allow.empty()) out.set(http::field::allow, response.allow);
  if (!response.policy.empty()) out.set("Content-Security-Policy", response.policy);
  if (response.status == 401) out.set(http::field::www_authenticate, "Bearer");
  out.set(http::field::cache_control, "no-store");
  out.set("X-Content-Type-Options", "nosniff");
  out.keep_alive(asked.keep_alive());
  const bool no_body = response.status == 204;
  if (!no_body) out.body() = std::move(response.body);
  if (!no_body) out.prepare_payload();
  return out;
}

/// What may stand in the journal: no query, for a token may be in it.
std::string path_of(const std::string& target) {
  return target.substr(0, target.find('?'));
}

std::optional<LogRow> last_event_id(const Incoming& request) {
  const auto text = text_of(request["Last-Event-ID"]);
  LogRow row = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), row);
  if (text.empty() || error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return row;
}

/// Who is at the other end.
struct Peer {
  bool loopback = false;
  std::string name;   ///< for the journal
  std::string local;  ///< our end of a TCP connection
};

Peer peer_of(asio::ip::tcp::socket& socket) {
  boost::system::error_code error;
  const auto peer = socket.remote_endpoint(error);
  if (error) return {};
  std::ostringstream local;
  local << socket.local_endpoint(error);
  return {peer.address().is_loopback(), peer.address().to_string(), error ? "" : local.str()};
}
Peer peer_of(asio::local::stream_protocol::socket& socket) {
  ucred peer{};
  socklen_t size = sizeof peer;
  const bool known =
      ::getsockopt(socket.native_handle(), SOL_SOCKET, SO_PEERCRED, &peer, &size) == 0;
  return {true, known ? "uid " + std::to_string(peer.uid) : "an unknown uid", ""};
}

Credentials credentials_of(const Incoming& request, const Peer& peer) {
  return {text_of(request[http::field::host]),
          text_of(request[http::field::origin]),
          text_of(request[http::field::authorization]),
          text_of(request[http::field::cookie]),
          peer.loopback,
          peer.local};
}

template <class Stream>
class Session {
 public:
  Session(Stream stream, Interface& interface, LiveStream& live, const Gate* gate, Peer peer)
      : stream_(std::move(stream)),
        interface_(interface),
        live_(live),
        gate_(gate),
        peer_(std::move(peer)) {}

  awaitable<void> run() {
    beast::flat_buffer buffer;
    for (bool more = true; more;) {
      http::request_parser<http::string_body> parser;
      parser.header_limit(kMostHeader);
      parser.body_limit(kMostBody);
      if (!co_await read(buffer, parser)) co_return;
      more = co_await answer(parser.get());
    }
  }

 private:
  awaitable<bool> read(beast::flat_buffer& buffer,
                       http::request_parser<http::string_body>& parser) {
    stream_.expires_after(kIdleTime);
    if (buffer.size() == 0) {  // between requests it may rest; once one begins, it must end
      const auto [error, count] = co_await stream_.async_read_some(buffer.prepare(1024), kNoThrow);
      if (error) co_return false;
      buffer.commit(count);
    }
    stream_.expires_after(kRequestTime);
    const auto [error, count] = co_await http::async_read(stream_, buffer, parser, kNoThrow);
    if (!error) co_return true;
    if (error == http::error::end_of_stream) co_return false;
    co_await refuse_bytes(error, parser.get());
    co_return false;
  }

  /// Bytes that are no request, or more of them than we take.
  awaitable<void> refuse_bytes(const boost::system::error_code& error, const Incoming& request) {
    int status = 400;
    if (error == http::error::body_limit) status = 413;
    if (error == http::error::header_limit) status = 431;
    if (error == beast::error::timeout) co_return;
    auto out = outgoing(refusal(status, {"bad-request", "not a request that can be taken",
                                         error.message(), "", ""}),
                        request);
    out.keep_alive(false);
    co_await http::async_write(stream_, out, kNoThrow);
    co_await hear_out();
  }

  /// Who is cut off in the middle of sending never reads why: take and drop the rest, a little.
  awaitable<void> hear_out() {
    boost::system::error_code ignored;
    beast::get_lowest_layer(stream_).socket().shutdown(asio::socket_base::shutdown_send, ignored);
    std::array<char, 4096> dropped;
    stream_.expires_after(2s);
    for (std::uint64_t taken = 0; taken < 4 * kMostBody;) {
      const auto [error, count] = co_await stream_.async_read_some(asio::buffer(dropped), kNoThrow);
      if (error) co_return;
      taken += count;
    }
  }

  /// False: the connection ends.
  awaitable<bool> answer(const Incoming& request) {
    Request asked{text_of(request.method_string()), text_of(request.target()), request.body(), {}};
    const auto route = route_of(asked.method, asked.target);
    if (route && route->name == RouteName::page && route->query.contains("token")) {
      co_return co_await send(log_in(*route, request));
    }
    if (route && gate_ != nullptr) {
      const auto admitted = gate_->admit(*route, credentials_of(request, peer_));
      if (!admitted) {
        spdlog::warn("interface: {} {} refused to {}: {}", asked.method, path_of(asked.target),
                     peer_.name, admitted.error().problem.code);
        co_return co_await send(outgoing(refusal(admitted.error()), request));
      }
      asked.may_push = admitted->may_push;
    }
    if (route && route->name == RouteName::live) {
      co_await stream_events(request);
      co_return false;
    }
    auto out = outgoing(interface_.handle(asked, wall_clock()), request);
    if (route && route->writes() && route->name != RouteName::push_readings) {
      spdlog::info("interface: {} {} by {}: {}", asked.method, path_of(asked.target), peer_.name,
                   out.result_int());
    }
    if (request.method() == http::verb::head) out.body().clear();  // length as it would be
    co_return co_await send(std::move(out));
  }

  /// The token goes into a cookie and out of the address line.
  Outgoing log_in(const Route& route, const Incoming& request) {
    Response response;
    response.status = 303;
    response.content_type.clear();
    std::string cookie;
    if (gate_ != nullptr) {  // over the Unix socket nobody needs it
      const auto made = gate_->log_in(route.query.at("token"), credentials_of(request, peer_));
      if (!made) return outgoing(refusal(made.error()), request);
      cookie = *made;
    }
    auto out = outgoing(response, request);
    out.set(http::field::location, "/");
    out.set("Referrer-Policy", "no-referrer");
    if (!cookie.empty()) out.set(http::field::set_cookie, cookie);
    return out;
  }

  awaitable<bool> send(Outgoing out) {
    stream_.expires_after(kRequestTime);
    const auto [error, count] = co_await http::async_write(stream_, out, kNoThrow);
    co_return !error && out.keep_alive();
  }

  awaitable<void> stream_events(const Incoming& request) {
    const auto subscriber =
        live_.subscribe(co_await asio::this_coro::executor, last_event_id(request));
    std::string text =
        "HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nCache-Control: no-store\r\n"
        "Connection: close\r\n\r\n";
    while (true) {
      if (subscriber->waiting.empty() && subscriber->behind) live_.catch_up(*subscriber);
      for (const auto& block : subscriber->waiting) text += block;
      subscriber->waiting.clear();
      if (text.empty() && !subscriber->closed) text = ":\n\n";
      stream_.expires_after(kRequestTime);
      const auto [error, count] = co_await asio::async_write(stream_, asio::buffer(text), kNoThrow);
      if (error || subscriber->closed) co_return;
      text.clear();
      if (!subscriber->waiting.empty() || subscriber->behind) continue;
      subscriber->bell.expires_after(kKeepAlive);
      co_await subscriber->bell.async_wait(kNoThrow);
    }
  }

  Stream stream_;
  Interface& interface_;
  LiveStream& live_;
  const Gate* gate_;
  Peer peer_;
};

template <class Socket>
awaitable<void> run(Socket socket, Interface& interface, LiveStream& live, const Gate* gate) {
  Peer peer = peer_of(socket);
  using Stream = beast::basic_stream<typename Socket::protocol_type>;
  Session<Stream> session(Stream(std::move(socket)), interface, live, gate, std::move(peer));
  co_await session.run();
}

}  // namespace

awaitable<void> run_session(asio::local::stream_protocol::socket socket, Interface& interface,
                            LiveStream& live, const Gate*) {
  co_await run(std::move(socket), interface, live, nullptr);
}

awaitable<void> run_session(asio::ip::tcp::socket socket, Interface& interface, LiveStream& live,
                            const Gate* gate) {
  co_await run(std::move(socket), interface, live, gate);
}

}  // namespace takehold::daemon
