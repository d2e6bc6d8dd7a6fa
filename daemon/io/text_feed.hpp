// What a serial line tells, line by line, for all the probes that are heard on it.
#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <string>

#include "daemon/io/serial_line.hpp"
#include "sensors/codec/line_splitter.hpp"

namespace takehold::daemon {

/// One thread; probes that share it are asked one after the other. Keeps the last 64 lines.
class TextFeed {
 public:
  struct Line {
    std::int64_t number;  ///< rising, over reopening too
    sensors::Result<std::string> text;
  };

  explicit TextFeed(std::shared_ptr<SerialLine> line);

  sensors::Result<void> open(const asio::any_io_executor& executor);
  void close();

  /// Takes up what has come already. Code "lost".
  sensors::Result<void> take_waiting();
  /// Waits for more, at least a byte. Codes "silent", "lost".
  awaitable<sensors::Result<void>> wait(std::chrono::steady_clock::time_point deadline);

  const std::deque<Line>& lines() const { return lines_; }

 private:
  void take(const std::string& bytes);

  std::shared_ptr<SerialLine> line_;
  sensors::LineSplitter splitter_;
  std::deque<Line> lines_;
  std::int64_t count_ = 0;
};

}  // namespace takehold::daemon
