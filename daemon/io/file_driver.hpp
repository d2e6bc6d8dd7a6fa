// A file that another program keeps up to date; its last line counts.
#pragma once

#include <filesystem>

#include "daemon/io/aside.hpp"
#include "daemon/io/driver.hpp"
#include "sensors/codec/line_decoder.hpp"

namespace takehold::daemon {

class FileDriver final : public Driver {
 public:
  FileDriver(std::filesystem::path file, sensors::LineDecoder decoder)
      : file_(std::move(file)), decoder_(std::move(decoder)) {}

  awaitable<sensors::Result<void>> open() override;
  /// A file that has not changed since the last poll is silent.
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override {}

 private:
  std::filesystem::path file_;
  sensors::LineDecoder decoder_;
  std::filesystem::file_time_type changed_ = std::filesystem::file_time_type::min();
  Aside aside_;
};

}  // namespace takehold::daemon
