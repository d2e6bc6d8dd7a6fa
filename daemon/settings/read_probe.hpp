// One [[probe]] of the settings. Only for the sources of this folder.
#pragma once

#include <filesystem>

#include "daemon/settings/settings.hpp"
#include "daemon/toml/document.hpp"

namespace takehold::daemon {

/// Mistakes are recorded in the table; the value is then not to be used. `file` is the settings
/// file, beside which relative paths lie.
ProbeSettings read_probe(const TomlTable& table, const std::filesystem::path& file);

/// Probes on one serial device must agree on how it is spoken to. A mistake is recorded in `table`.
void check_shared_line(const std::vector<ProbeSettings>& earlier, const ProbeSettings& probe,
                       const TomlTable& table);

}  // namespace takehold::daemon
