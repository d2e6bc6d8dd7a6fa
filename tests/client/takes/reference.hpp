// The check values made with scipy and R; the file says with which versions.
#pragma once

#include <fstream>
#include <nlohmann/json.hpp>

#include "embedded/places.hpp"

namespace takehold::client {

inline nlohmann::json stats_reference() {
  std::ifstream file(TAKEHOLD_SOURCE_DIR "/tests/reference/stats_reference.json");
  return nlohmann::json::parse(file);
}

}  // namespace takehold::client
