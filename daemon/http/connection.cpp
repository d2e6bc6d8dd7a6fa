#include "daemon/http/connection.hpp"

#include <boost/asio/error.hpp>
#include <boost/asio/experimental/awaitable_operators.hpp>
#include <boost/asio/ip/address.hpp>
#include <boost/asio/ssl/error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/beast/core/error.hpp>
#include <boost/beast/http/error.hpp>
#include <boost/beast/http/field.hpp>
#include <boost/system/system_error.hpp>

namespace takehold::daemon {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
using asio::ip::tcp;
using sensors::Problem;

/// Addresses need no asking; names are looked up, which is given up in time.
asio::awaitable<std::vector<tcp::endpoint>> find_host(const Endpoint& endpoint,
                                                      std::chrono::milliseconds within) {
  using namespace asio::experimental::awaitable_operators;
  std::vector<tcp::endpoint> found;
  boost::system::error_code not_an_address;
  const auto address = asio::ip::make_address(endpoint.host, not_an_address);
  if (!not_an_address) {
    found.emplace_back(address, endpoint.port);
    co_return found;
  }
  const auto executor = co_await asio::this_coro::executor;
  tcp::resolver resolver(executor);
  asio::steady_timer timer(executor, within);
  auto first = co_await (
      resolver.async_resolve(endpoint.host, std::to_string(endpoint.port), asio::use_awaitable) ||
      timer.async_wait(asio::use_awaitable));
  if (first.index() == 1) throw boost::system::system_error(beast::error::timeout);
  for (const auto& entry : std::get<0>(first)) found.push_back(entry.endpoint());
  co_return found;
}

/// Of what is written between line ends, nothing may hold one.
bool is_clean(std::string_view text, bool blanks_allowed) {
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f || (byte == ' ' && !blanks_allowed)) return false;
  }
  return true;
}

void check_request(const Endpoint& endpoint, const HttpRequest& request) {
  bool clean = is_clean(request.method, false) && is_clean(request.target, false) &&
               !request.method.empty() && request.target.starts_with('/');
  for (const auto& [name, value] : request.headers) {
    clean = clean && !name.empty() && is_clean(name, false) && is_clean(value, true);
  }
  if (clean) return;
  throw sensors::Refused({"bad-request", "this request cannot be sent",
                          request.method + " " + request.target, endpoint.text(), ""});
}

/// A server of several names must know which one is meant. OpenSSL's macro for it casts in C style.
void name_the_host(SSL* ssl, std::string host) {
  boost::system::error_code is_name;
  asio::ip::make_address(host, is_name);
  if (!is_name) return;  // an address is never named
  if (SSL_ctrl(ssl, SSL_CTRL_SET_TLSEXT_HOSTNAME, TLSEXT_NAMETYPE_host_name, host.data()) != 1) {
    throw boost::system::system_error(asio::error::invalid_argument);
  }
}

std::string code_of(const boost::system::error_code& error, bool connected) {
  if (error == beast::error::timeout) return "timeout";
  if (error == beast::http::error::body_limit || error == beast::http::error::header_limit ||
      error == beast::http::error::buffer_overflow) {
    return "too-large";
  }
  if (error == beast::http::error::end_of_stream || error == beast::http::error::partial_message) {
    return "connection-lost";
  }
  if (error.category() == beast::http::make_error_code(beast::http::error::bad_method).category()) {
    return "bad-answer";
  }
  if (error.category() == asio::error::get_ssl_category()) return "tls-failed";
  return connected ? "connection-lost" : "connect-failed";
}

std::string title_of(const std::string& code) {
  if (code == "timeout") return "no answer in time";
  if (code == "too-large") return "the answer is too large";
  if (code == "connection-lost") return "the connection broke";
  if (code == "bad-answer") return "the answer is not HTTP";
  if (code == "tls-failed") return "the server could not prove who it is";
  return "nobody answers there";
}

}  // namespace

asio::awaitable<void> connect(UnixStream& stream, const Endpoint& endpoint,
                              const HttpLimits& limits) {
  stream.expires_after(limits.connect);
  const asio::local::stream_protocol::endpoint path(endpoint.host);
  co_await stream.async_connect(path, asio::use_awaitable);
}

asio::awaitable<void> connect(beast::tcp_stream& stream, const Endpoint& endpoint,
                              const HttpLimits& limits) {
  const auto start = std::chrono::steady_clock::now();
  const auto addresses = co_await find_host(endpoint, limits.connect);
  stream.expires_at(start + limits.connect);
  co_await stream.async_connect(addresses, asio::use_awaitable);
}

asio::awaitable<void> connect(TlsStream& stream, const Endpoint& endpoint,
                              const HttpLimits& limits) {
  co_await connect(stream.next_layer(), endpoint, limits);
  name_the_host(stream.native_handle(), endpoint.host);
  stream.set_verify_callback(asio::ssl::host_name_verification(endpoint.host));
  stream.next_layer().expires_after(limits.total);
  co_await stream.async_handshake(asio::ssl::stream_base::client, asio::use_awaitable);
}

asio::ssl::context tls_context(const HttpLimits& limits) {
  asio::ssl::context context(asio::ssl::context::tls_client);
  context.set_options(asio::ssl::context::default_workarounds | asio::ssl::context::no_tlsv1 |
                      asio::ssl::context::no_tlsv1_1);
  context.set_verify_mode(asio::ssl::verify_peer);
  context.set_default_verify_paths();
  if (!limits.ca_file.empty()) context.load_verify_file(limits.ca_file);
  return context;
}

beast::http::request<beast::http::string_body> wire_request(const Endpoint& endpoint,
                                                            const HttpRequest& request, bool keep) {
  check_request(endpoint, request);
  beast::http::request<beast::http::string_body> wire;
  wire.version(11);
  wire.method_string(request.method);
  wire.target(request.target);
  wire.set(beast::http::field::host, endpoint.host_header());
  wire.set(beast::http::field::user_agent, "takehold");
  wire.set(beast::http::field::connection, keep ? "keep-alive" : "close");
  for (const auto& [name, value] : request.headers) wire.set(name, value);
  wire.body() = request.body;
  wire.prepare_payload();
  return wire;
}

Problem problem_of(std::exception_ptr failure, const Endpoint& endpoint, bool connected) {
  try {
    std::rethrow_exception(failure);
  } catch (const sensors::Refused& refused) {
    return refused.problem();
  } catch (const boost::system::system_error& error) {
    const auto code = code_of(error.code(), connected);
    return {code, title_of(code), error.code().message(), endpoint.text(), ""};
  }
}

}  // namespace takehold::daemon
