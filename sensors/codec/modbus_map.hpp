// Where a Modbus unit keeps its values: from settings to questions, and from registers to values.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "sensors/codec/decoded.hpp"
#include "sensors/codec/modbus_frame.hpp"

namespace takehold::sensors {

/// One 16-bit register: value = scale · register, in degC or percent.
struct ModbusQuantity {
  int function = 4;        ///< 3 holding or 4 input registers
  int address = 0;         ///< as sent on the wire: from 0
  double scale = 1.0;      ///< 0.1 for tenths
  bool is_signed = false;  ///< two's complement
};

/// What the settings fill; none: the unit does not tell that quantity.
struct ModbusMap {
  int unit = 1;  ///< 1..247
  std::optional<ModbusQuantity> temperature;
  std::optional<ModbusQuantity> humidity;
};

/// Codes "bad-unit-number", "bad-function", "bad-address", "bad-scale", "no-values"; `where` is the
/// key: "temperature.scale".
Result<void> check(const ModbusMap& map);

/// The questions to ask, one or two: registers that stand side by side are asked for at once,
/// others apart, for a unit may refuse a read across registers it does not have. `map` is checked.
std::vector<ModbusRead> reads_of(const ModbusMap& map);

/// The values in the answers to reads_of(map), one answer a read, in that order. A read that failed
/// is nullopt: its values are missing. Code "no-values" if all are.
Result<Decoded> decode_registers(const ModbusMap& map,
                                 std::span<const std::optional<Registers>> answers);

}  // namespace takehold::sensors
