// A probe that tells by itself, line by line, on a serial line.
#pragma once

#include <memory>

#include "daemon/io/driver.hpp"
#include "daemon/io/serial_line.hpp"
#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/line_splitter.hpp"

namespace takehold::daemon {

/// The newest whole line since the last poll counts; if there is none, the next to come does.
class TextDriver final : public Driver {
 public:
  TextDriver(std::shared_ptr<SerialLine> line, sensors::LineDecoder decoder);

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override;

 private:
  sensors::Result<void> take_waiting();
  /// The newest line that is a reading, else the last that is none.
  std::optional<sensors::Result<sensors::Decoded>> newest();

  std::shared_ptr<SerialLine> line_;
  sensors::LineDecoder decoder_;
  sensors::LineSplitter splitter_;
};

}  // namespace takehold::daemon
