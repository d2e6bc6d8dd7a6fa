// A file of stem diameters, as `match` reads it: one a line.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sensors/quantity/length.hpp"

namespace takehold::client {

/// No seedling is thicker: a larger number is nearly always a lost decimal point, 23 for 2.3. There
/// is no least but zero, for a list may hold anything that was measured.
inline constexpr sensors::Millimetres kThickestListed = sensors::Millimetres::mm(15.0);

/// Reads the text of `file`. Blank lines and lines starting with # do not count; a decimal comma is
/// as good as a point; mm unless a suffix says otherwise. Refuses with file:line, code
/// "bad-diameter".
std::vector<sensors::Millimetres> read_stem_list(std::string_view text, const std::string& file);

}  // namespace takehold::client
