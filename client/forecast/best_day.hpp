// Which day is the best to graft on, and how sure that is.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace takehold::client {

/// The day with the most pairs among those allowed; of several the one in their middle, so that a
/// day's delay costs least. Nothing where no day has a pair.
std::optional<int> best_day(std::span<const std::uint16_t> pairs, const std::vector<bool>& allowed);

struct DayRange {
  int p10 = 0, p50 = 0, p90 = 0;
};

/// Of chances by day, which add up to more than 0. Days are whole, so that no two of them hold 80 %
/// exactly: p10 and p90 are those that hold most nearly 80 % between them, with tails as equal as
/// that allows, and of equals the nearest to each other; over many forecasts 8 in 10 are held. p50
/// is the first day up to which the chance is a half.
DayRange day_range(std::span<const double> chances);

}  // namespace takehold::client
