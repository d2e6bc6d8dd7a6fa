#include "daemon/http/exchange.hpp"

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/string.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/write.hpp>
#include <cctype>

#include "daemon/http/async_exchange.hpp"
#include "daemon/http/connection.hpp"

namespace takehold::daemon {
namespace {

namespace asio = boost::asio;
namespace http = boost::beast::http;
using sensors::Result;

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower;
}

/// Writes one request and reads one answer, over any stream.
struct Exchange {
  const Endpoint& endpoint;
  const HttpRequest& request;
  const HttpLimits& limits;
  HttpResponse response = {};

  template <class Stream>
  asio::awaitable<void> talk(Stream& stream) {
    const auto wire = wire_request(endpoint, request);
    co_await http::async_write(stream, wire, asio::use_awaitable);
    http::response_parser<http::string_body> parser;
    parser.header_limit(limits.header_bytes);
    parser.body_limit(limits.body_bytes);
    parser.skip(request.method == "HEAD");
    boost::beast::flat_buffer buffer;
    co_await http::async_read(stream, buffer, parser, asio::use_awaitable);
    auto answer = parser.release();
    response.status = static_cast<int>(answer.result_int());
    for (const auto& field : answer) {
      const std::string_view name(field.name_string().data(), field.name_string().size());
      response.headers[lower_case(name)] = std::string(field.value());
    }
    response.body = std::move(answer.body());
  }
};

}  // namespace

asio::awaitable<Result<HttpResponse>> async_exchange(Endpoint endpoint, HttpRequest request,
                                                     HttpLimits limits) {
  Exchange exchange{endpoint, request, limits};
  const auto failure = co_await over_connection(endpoint, limits, exchange);
  if (failure) co_return *failure;
  co_return std::move(exchange.response);
}

Result<HttpResponse> exchange(const Endpoint& endpoint, const HttpRequest& request,
                              const HttpLimits& limits) {
  asio::io_context context(1);
  Result<HttpResponse> result = sensors::Problem{"connection-lost", "", "", endpoint.text(), ""};
  asio::co_spawn(context, async_exchange(endpoint, request, limits),
                 [&](std::exception_ptr failure, Result<HttpResponse> answer) {
                   if (failure) std::rethrow_exception(failure);
                   result = std::move(answer);
                 });
  context.run();
  return result;
}

}  // namespace takehold::daemon
