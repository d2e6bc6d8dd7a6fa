// A probe in a box with a network: GET of any path answers its values as JSON.
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http.hpp>

#include "sensors/sim/probe_sim/live.hpp"

namespace takehold::sensors {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;
using Request = http::request<http::empty_body>;
using Response = http::response<http::string_body>;

constexpr auto kPatience = std::chrono::seconds(10);

Response answer_to(const Request& request, const Decoded& values) {
  Response response{http::status::ok, request.version()};
  if (request.method() == http::verb::get) {
    response.set(http::field::content_type, "application/json");
    response.body() = worded(values, Wording::json) + "\n";
  } else {
    response.result(http::status::method_not_allowed);
    response.set(http::field::allow, "GET");
  }
  response.keep_alive(request.keep_alive());
  response.prepare_payload();
  return response;
}

asio::awaitable<void> serve_one(tcp::socket socket, Says says) {
  beast::tcp_stream stream(std::move(socket));
  beast::flat_buffer buffer;
  boost::system::error_code error;
  for (bool open = true; open;) {
    stream.expires_after(kPatience);
    Request request;
    co_await http::async_read(stream, buffer, request,
                              asio::redirect_error(asio::use_awaitable, error));
    const auto values = says();
    if (error || !values) break;  // a silent probe hangs up without a word
    auto response = answer_to(request, *values);
    open = response.keep_alive();
    co_await http::async_write(stream, response, asio::redirect_error(asio::use_awaitable, error));
    if (error) break;
  }
  stream.socket().shutdown(tcp::socket::shutdown_both, error);
}

}  // namespace

asio::awaitable<void> run_http_port(tcp::acceptor acceptor, Says says) {
  for (;;) {
    auto socket = co_await acceptor.async_accept(asio::use_awaitable);
    asio::co_spawn(acceptor.get_executor(), serve_one(std::move(socket), says), asio::detached);
  }
}

}  // namespace takehold::sensors
