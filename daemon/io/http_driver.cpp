#include "daemon/io/http_driver.hpp"

#include "daemon/http/async_exchange.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Problem;
using sensors::Result;

awaitable<Result<Decoded>> HttpDriver::ask(std::chrono::milliseconds timeout) {
  HttpLimits limits;
  limits.connect = timeout / 2;
  limits.total = timeout - limits.connect;
  limits.body_bytes = sensors::kMaxJsonBytes;
  HttpRequest request;
  request.target = address_.target;
  request.headers = {{"Accept", "application/json"}};
  const auto answer = co_await async_exchange(address_.endpoint, request, limits);
  if (!answer) {
    auto problem = answer.error();
    problem.code = "silent";
    co_return problem;
  }
  if (answer->status != 200) {
    co_return Problem{"http-status", "the probe refused", std::to_string(answer->status),
                      address_.endpoint.text(), ""};
  }
  co_return sensors::decode_json(json_, answer->body);
}

}  // namespace takehold::daemon
