// TOML as a person would write it. Only for the sources of this folder.
#pragma once

#include <toml++/toml.h>

#include <string>

namespace takehold::daemon {

/// Sections for tables, [[...]] for lists of tables, everything deeper on one line; numbers in as
/// few digits as name them exactly (toml++ prints 0.3 as 0.29999999999999999).
std::string printed(const toml::table& root);

}  // namespace takehold::daemon
