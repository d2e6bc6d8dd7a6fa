// An open serial line, read and written with deadlines. One thread; one caller at a time.
#pragma once

#include <boost/asio/posix/stream_descriptor.hpp>
#include <optional>
#include <span>
#include <string>

#include "daemon/io/asio.hpp"
#include "daemon/settings/settings.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

class SerialLine {
 public:
  SerialLine(std::string device, const SerialForm& form)
      : device_(std::move(device)), form_(form) {}

  const std::string& device() const { return device_; }
  bool is_open() const { return bool(descriptor_); }
  /// Codes of open_serial().
  sensors::Result<void> open(const asio::any_io_executor& executor);
  void close() { descriptor_.reset(); }

  /// Throws away what the other side has sent so far.
  void forget_input();
  /// What has come, at least a byte; code "silent" when nothing does before `deadline`, "lost" when
  /// the device is gone.
  awaitable<sensors::Result<std::string>> read_some(std::chrono::steady_clock::time_point deadline);
  /// What has come already, without waiting; may be empty. Code "lost".
  sensors::Result<std::string> read_waiting();
  awaitable<sensors::Result<void>> write(std::span<const std::uint8_t> bytes);

 private:
  sensors::Problem lost(const std::string& why) const;

  std::string device_;
  SerialForm form_;
  std::optional<asio::posix::stream_descriptor> descriptor_;
};

}  // namespace takehold::daemon
