// Words of the settings that reader and writer share. Only for the sources of this folder.
#pragma once

#include <array>
#include <string>

namespace takehold::daemon {

/// In the order of sensors::ModbusType.
inline const std::array<std::string, 5> kModbusTypes = {"uint16", "int16", "uint32", "int32",
                                                        "float32"};
/// In the order of Parity.
inline const std::array<std::string, 3> kParities = {"none", "even", "odd"};

}  // namespace takehold::daemon
