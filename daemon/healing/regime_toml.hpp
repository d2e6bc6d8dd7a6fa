// Regime files: TOML as in the built-in ones of config/regimes/ and docs/formats.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "daemon/healing/regime.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// All mistakes are reported at once, each with file and line. `file` is for messages.
sensors::Result<Regime> read_regime(std::string_view text, const std::string& file);

/// A regime file that reads back as the same regime.
std::string regime_toml(const Regime& regime);

/// By name, or by a file name that ends in ".toml". A name is looked for as NAME.toml in `folders`,
/// the first that has it, and then among the built-in ones; a file name in `folders` only, unless
/// it is absolute. Codes "regime-not-found" and those of reading.
sensors::Result<Regime> find_regime(const std::string& name_or_file,
                                    const std::vector<std::filesystem::path>& folders);

std::vector<std::string> built_in_regime_names();

}  // namespace takehold::daemon
