// A probe that answers HTTP GET with JSON, asked at each poll on a connection of its own.
#pragma once

#include "daemon/http/endpoint.hpp"
#include "daemon/io/driver.hpp"
#include "sensors/codec/json_map.hpp"

namespace takehold::daemon {

class HttpDriver final : public Driver {
 public:
  HttpDriver(HttpAddress address, sensors::JsonMap json)
      : address_(std::move(address)), json_(std::move(json)) {}

  awaitable<sensors::Result<void>> open() override { co_return sensors::Result<void>(); }
  /// A server that cannot be reached is silent: there is no line to lose.
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override {}

 private:
  HttpAddress address_;
  sensors::JsonMap json_;
};

}  // namespace takehold::daemon
