// Grafts that were lost, by cause and by day; and plants lost after they had taken.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>

#include "client/takes/graft_fate.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// [{cause, day, count}], days after grafting.
nlohmann::json losses_json(std::span<const BatchFate> batches);
/// [{stage, cause, count}]: hardening or bed.
nlohmann::json later_losses_json(std::span<const BatchFate> batches);
/// A table, and a line on later losses if there were any.
std::string losses_text(std::span<const BatchFate> batches, const TerminalStyle& style);

}  // namespace takehold::client
