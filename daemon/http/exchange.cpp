#include "daemon/http/exchange.hpp"

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/io_context.hpp>
#include <cctype>

#include "daemon/http/async_exchange.hpp"
#include "daemon/http/one_exchange.hpp"

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

}  // namespace

HttpResponse response_of(http::response<http::string_body>&& answer) {
  HttpResponse response;
  response.status = static_cast<int>(answer.result_int());
  for (const auto& field : answer) {
    const std::string_view name(field.name_string().data(), field.name_string().size());
    response.headers[lower_case(name)] = std::string(field.value());
  }
  response.body = std::move(answer.body());
  return response;
}

asio::awaitable<Result<HttpResponse>> async_exchange(Endpoint endpoint, HttpRequest request,
                                                     HttpLimits limits) {
  OneExchange exchange{endpoint, request, limits};
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
