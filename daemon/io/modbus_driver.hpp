// A Modbus RTU unit on a serial line, asked at each poll.
#pragma once

#include <memory>
#include <vector>

#include "daemon/io/driver.hpp"
#include "daemon/io/serial_line.hpp"
#include "sensors/codec/modbus_map.hpp"

namespace takehold::daemon {

/// Keeps the line's silence before each frame. An answer that is garbled, or another unit's that
/// came late, is thrown away and the question asked once more.
class ModbusDriver final : public Driver {
 public:
  ModbusDriver(std::shared_ptr<SerialLine> line, const sensors::ModbusMap& map, int baud);

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override { line_->close(); }

 private:
  using Deadline = std::chrono::steady_clock::time_point;
  awaitable<sensors::Result<sensors::Registers>> exchange(const sensors::ModbusRead& read,
                                                          std::chrono::milliseconds timeout);
  awaitable<sensors::Result<sensors::Registers>> ask_once(const sensors::ModbusRead& read,
                                                          Deadline deadline);
  awaitable<sensors::Result<void>> wait_for_silence();

  std::shared_ptr<SerialLine> line_;
  sensors::ModbusMap map_;
  std::chrono::microseconds silence_;  ///< that must pass before a frame
};

}  // namespace takehold::daemon
