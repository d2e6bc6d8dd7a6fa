// worth: was the grafting worth it, scion by scion?
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/command/crops.hpp"

namespace takehold::client {

nlohmann::json worth_json(const ScionCrops& crops);
/// One honest paragraph.
std::string worth_paragraph(const ScionCrops& crops);

}  // namespace takehold::client
