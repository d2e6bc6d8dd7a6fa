// Stem diameters as people type them.
#pragma once

#include <string_view>
#include <vector>

#include "client/season/sowing.hpp"

namespace takehold::client {

inline constexpr Millimetres kThinnestStem = Millimetres::mm(0.3);
inline constexpr Millimetres kThickestStem = Millimetres::mm(15);

/// Within kThinnestStem..kThickestStem, both allowed; otherwise code "bad-diameter", and where a
/// lost decimal point explains it the hint asks: 23 -> "2.3?".
sensors::Result<Millimetres> checked_stem(Millimetres diameter);

/// "2.0", "2,0", "2.0mm", "0.08in". A bare number is in `units` (inches in US units).
sensors::Result<Millimetres> parse_stem(std::string_view text, Units units = Units::metric);

/// "2.0 2.1 5=2.3": readings in tray order, each one further than the last, or at the number named.
/// A number given twice is refused: code "twice".
sensors::Result<std::vector<Stem>> parse_stems(std::string_view text, Units units = Units::metric);

}  // namespace takehold::client
