// A probe behind files that hold one number each, as the kernel's sensor drivers make them.
#pragma once

#include <variant>

#include "daemon/io/aside.hpp"
#include "daemon/io/driver.hpp"

namespace takehold::daemon {

/// Reading such a file makes the sensor measure: some hundredths of a second on I2C, most of one on
/// 1-wire. It is read aside, so that a sensor that hangs holds up nobody else.
class ValueFilesDriver final : public Driver {
 public:
  explicit ValueFilesDriver(std::variant<ValueFiles, KernelFolder> from) : from_(std::move(from)) {}

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override { files_.reset(); }

 private:
  std::variant<ValueFiles, KernelFolder> from_;
  std::optional<ValueFiles> files_;
  Aside aside_;
};

}  // namespace takehold::daemon
