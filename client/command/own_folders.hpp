// Where this user's files lie, by the XDG base directory rules.
#pragma once

#include <filesystem>
#include <vector>

namespace takehold::client {

/// Where settings and healing plans of one's own are looked for, in this order:
/// $XDG_CONFIG_HOME/takehold or ~/.config/takehold, then /etc/takehold.
std::vector<std::filesystem::path> settings_folders();

/// $XDG_DATA_HOME/takehold, else ~/.local/share/takehold. Refuses "no-home".
std::filesystem::path data_folder();

}  // namespace takehold::client
