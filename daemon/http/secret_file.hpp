// A password or token in a file of its own.
#pragma once

#include <filesystem>
#include <string>

#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// The first line, without its end. Codes "no-file", "open-secret" (others may read the file: mode
/// 0600 is asked for), "empty-secret". No message ever shows what is in it.
sensors::Result<std::string> read_secret(const std::filesystem::path& file);

}  // namespace takehold::daemon
