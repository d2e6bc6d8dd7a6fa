// A probe behind files that hold one number each, as the kernel's sensor drivers make them.
#pragma once

#include <boost/asio/thread_pool.hpp>
#include <variant>

#include "daemon/io/driver.hpp"

namespace takehold::daemon {

/// Reading such a file makes the sensor measure, which takes up to a second: it is done aside, so
/// that nobody else waits.
class ValueFilesDriver final : public Driver {
 public:
  explicit ValueFilesDriver(std::variant<ValueFiles, KernelFolder> from)
      : from_(std::move(from)), aside_(1) {}

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override { files_.reset(); }

 private:
  std::variant<ValueFiles, KernelFolder> from_;
  std::optional<ValueFiles> files_;
  asio::thread_pool aside_;
};

}  // namespace takehold::daemon
