// Durations as settings write them: a whole number and a unit, "250ms" "10s" "30min" "2h" "400d".
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// Nothing before, between or after number and unit; not negative. Code "bad-duration".
sensors::Result<std::chrono::milliseconds> parse_duration(std::string_view text);

/// The same in its largest unit that divides it: 7200000 ms is "2h". Reads back as it was.
std::string duration_text(std::chrono::milliseconds duration);

}  // namespace takehold::daemon
