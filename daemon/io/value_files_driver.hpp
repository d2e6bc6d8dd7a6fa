// A probe behind files that hold one number each, as the kernel's sensor drivers make them.
#pragma once

#include <variant>

#include "daemon/io/driver.hpp"

namespace takehold::daemon {

/// Reading such a file makes the sensor measure, and nothing else goes on meanwhile: some
/// hundredths of a second on I2C, but most of a second on 1-wire. Ask the latter no more often than
/// twice a minute.
class ValueFilesDriver final : public Driver {
 public:
  explicit ValueFilesDriver(std::variant<ValueFiles, KernelFolder> from) : from_(std::move(from)) {}

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override { files_.reset(); }

 private:
  std::variant<ValueFiles, KernelFolder> from_;
  std::optional<ValueFiles> files_;
};

}  // namespace takehold::daemon
