// Where the kernel's sensor drivers leave their values: finding the files of a folder.
//
// Both of its subsystems are known by the names of their files (Documentation/ABI of the kernel):
//   IIO     in_temp_input in_humidityrelative_input, in thousandths; or ..._raw with ..._scale and
//           ..._offset: value = (raw + offset) · scale; in_concentration_co2_raw comes to percent
//   hwmon   temp1_input humidity1_input, in thousandths
#pragma once

#include <filesystem>
#include <string>

#include "daemon/settings/settings.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// `pattern` may hold `*`, and must then mean one folder only. Codes "no-folder", "many-folders",
/// "no-values".
sensors::Result<ValueFiles> find_value_files(const std::string& pattern);

}  // namespace takehold::daemon
