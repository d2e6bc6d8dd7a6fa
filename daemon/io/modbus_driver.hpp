// A Modbus RTU unit on a serial line, asked at each poll.
#pragma once

#include <memory>
#include <vector>

#include "daemon/io/driver.hpp"
#include "daemon/io/serial_line.hpp"
#include "sensors/codec/modbus_map.hpp"

namespace takehold::daemon {

class ModbusDriver final : public Driver {
 public:
  ModbusDriver(std::shared_ptr<SerialLine> line, const sensors::ModbusMap& map, int baud);

  awaitable<sensors::Result<void>> open() override;
  awaitable<sensors::Result<sensors::Decoded>> ask(std::chrono::milliseconds timeout) override;
  void close() override { line_->close(); }

 private:
  awaitable<sensors::Result<sensors::Registers>> exchange(const sensors::ModbusRead& read,
                                                          std::chrono::milliseconds timeout);

  std::shared_ptr<SerialLine> line_;
  sensors::ModbusMap map_;
  std::chrono::microseconds silence_;  ///< that must pass before a frame
};

}  // namespace takehold::daemon
