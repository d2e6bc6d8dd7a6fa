// A probe that answers HTTP GET with JSON, asked at each poll on a connection that stays open.
#pragma once

#include <optional>

#include "daemon/http/kept_connection.hpp"
#include "daemon/io/driver.hpp"
#include "sensors/codec/json_map.hpp"

namespace takehold::daemon {

class HttpDriver final : public Driver {
 public:
  HttpDriver(HttpAddress address, sensors::JsonMap json, std::optional<HttpLogin> login)
      : address_(std::move(address)),
        json_(std::move(json)),
        login_(std::move(login)),
        connection_(address_.endpoint) {}

  /// Reads the secret, anew each time the line was closed: it may have been changed.
  awaitable<sensors::Result<void>> open() override;
  /// A server that cannot be reached is silent: there is no line to lose.
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override;

 private:
  HttpAddress address_;
  sensors::JsonMap json_;
  std::optional<HttpLogin> login_;
  std::optional<std::string> authorization_;  ///< the header's value
  KeptConnection connection_;
};

}  // namespace takehold::daemon
