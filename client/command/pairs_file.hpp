// A file that says which seedling was grafted onto which.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "client/season/sowing.hpp"

namespace takehold::client {

/// "S12-5" under "S13-2", with their diameters where the file gives them.
struct SeedlingPair {
  std::string rootstock;
  std::string scion;
  std::optional<Millimetres> rootstock_diameter{};
  std::optional<Millimetres> scion_diameter{};
};

/// Two forms: what `match P --json` printed, or a line a pair, "S12-5 S13-2" or with both
/// diameters, "S12-5 S13-2 2.10 2.05"; blanks, tabs, commas or semicolons between. Blank and #
/// lines do not count. Refuses with file:line, code "bad-pairs".
std::vector<SeedlingPair> read_pairs(std::string_view text, const std::string& file);

}  // namespace takehold::client
