// What a grower answers to a warning, told to the daemon.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "client/link/link.hpp"

namespace takehold::client {

/// The warning after it, or why not.
sensors::Result<nlohmann::json> acknowledge(const Link& link, const std::string& warning);
sensors::Result<nlohmann::json> shelve(const Link& link, const std::string& warning,
                                       sensors::Instant until);

}  // namespace takehold::client
