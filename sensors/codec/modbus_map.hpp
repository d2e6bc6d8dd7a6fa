// Where a Modbus unit keeps its values: from settings to questions, and from registers to values.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "sensors/codec/decoded.hpp"
#include "sensors/codec/modbus_frame.hpp"

namespace takehold::sensors {

/// How a value fills registers. The standard knows registers of 16 bits only; wider values are the
/// makers' habit, and so is which of their two registers comes first.
enum class ModbusType { uint16, int16, uint32, int32, float32 };

/// value = scale · number + offset, in degC, percent, ppm or µmol m-2 s-1.
struct ModbusQuantity {
  int function = 4;                      ///< 3 holding or 4 input registers
  int address = 0;                       ///< as sent on the wire: from 0
  double scale = 1.0;                    ///< 0.1 for tenths
  ModbusType type = ModbusType::uint16;  ///< signed: two's complement
  bool low_word_first = false;           ///< of two registers
  double offset = 0.0;

  int registers() const { return type == ModbusType::uint16 || type == ModbusType::int16 ? 1 : 2; }
};

/// What the settings fill; none: the unit does not tell that quantity.
struct ModbusMap {
  int unit = 1;  ///< 1..247
  std::optional<ModbusQuantity> temperature = std::nullopt;
  std::optional<ModbusQuantity> humidity = std::nullopt;
  std::optional<ModbusQuantity> leaf_temperature = std::nullopt;
  std::optional<ModbusQuantity> co2 = std::nullopt;
  std::optional<ModbusQuantity> light = std::nullopt;
};

/// Codes "bad-unit-number", "bad-function", "bad-address", "bad-scale", "bad-offset", "no-values";
/// `where` is the key: "temperature.scale".
Result<void> check(const ModbusMap& map);

/// The questions to ask: registers that touch are asked for at once, others apart, for a unit may
/// refuse a read across registers it does not have. `map` is checked.
std::vector<ModbusRead> reads_of(const ModbusMap& map);

/// The values in the answers to reads_of(map), one answer a read, in that order. A read that failed
/// is nullopt: its values are missing, and so is a float that is no number, as units say "none".
/// Code "no-values" if all are.
Result<Decoded> decode_registers(const ModbusMap& map,
                                 std::span<const std::optional<Registers>> answers);

}  // namespace takehold::sensors
