// Recorded readings as a table: what a replay reads and a recorded run writes.
//   at,probe,temperature_degc,humidity_pct
//   2027-04-12T00:00:00Z,left,24.31,96.2
// One reading a line; an empty value is missing.
#pragma once

#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::sensors {

inline constexpr std::string_view kTraceHead = "at,probe,temperature_degc,humidity_pct";

/// One line without its end. Quality is none if both values are missing, else good: nothing is
/// judged here. Codes "bad-row" (not four fields), "no-probe", "bad-instant", "bad-number".
Result<Reading> parse_trace_row(std::string_view line);

/// Values with two decimals, as probes tell them.
std::string format_trace_row(const Reading& reading);

}  // namespace takehold::sensors
