#include "daemon/io/http_driver.hpp"

#include <openssl/evp.h>

#include "daemon/http/secret_file.hpp"

namespace takehold::daemon {

using sensors::Decoded;
using sensors::Problem;
using sensors::Result;

namespace {

std::string base64(const std::string& text) {
  std::string coded((text.size() + 2) / 3 * 4 + 1, '\0');  // EVP_EncodeBlock ends it with a NUL
  const auto length =
      EVP_EncodeBlock(reinterpret_cast<unsigned char*>(coded.data()),
                      reinterpret_cast<const unsigned char*>(text.data()), int(text.size()));
  coded.resize(std::size_t(length));
  return coded;
}

std::string header_of(const HttpLogin& login, const std::string& secret) {
  if (login.user.empty()) return "Bearer " + secret;
  return "Basic " + base64(login.user + ":" + secret);
}

}  // namespace

awaitable<Result<void>> HttpDriver::open() {
  if (!login_ || authorization_) co_return Result<void>();
  const auto secret = read_secret(login_->secret_file);
  if (!secret) co_return secret.error();
  authorization_ = header_of(*login_, *secret);
  co_return Result<void>();
}

void HttpDriver::close() {
  connection_.close();
  authorization_.reset();
}

awaitable<Result<Decoded>> HttpDriver::ask(std::chrono::milliseconds timeout) {
  HttpLimits limits;
  limits.connect = timeout / 2;
  limits.total = timeout - limits.connect;
  limits.body_bytes = sensors::kMaxJsonBytes;
  HttpRequest request;
  request.target = address_.target;
  request.headers = {{"Accept", "application/json"}};
  if (authorization_) request.headers.emplace_back("Authorization", *authorization_);
  const auto answer = co_await connection_.exchange(request, limits);
  if (!answer) {
    auto problem = answer.error();
    if (problem.code != "too-large" && problem.code != "bad-answer") problem.code = "silent";
    co_return problem;
  }
  if (answer->status == 401 || answer->status == 403) {
    authorization_.reset();  // the secret's file may have been changed meanwhile
    co_return Problem{"http-status", "the probe does not let us in", std::to_string(answer->status),
                      address_.endpoint.text(), "user with password_file, or token_file"};
  }
  if (answer->status != 200) {
    co_return Problem{"http-status", "the probe refused", std::to_string(answer->status),
                      address_.endpoint.text(), ""};
  }
  co_return sensors::decode_json(json_, answer->body);
}

}  // namespace takehold::daemon
