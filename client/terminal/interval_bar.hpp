// An interval of a share drawn in characters, to stand beside its numbers in a table.
#pragma once

#include <string>

#include "client/terminal/style.hpp"

namespace takehold::client {

/// A line of `width` columns from 0 to 1: a rule from `low` to `high`, a knot at `middle`, dots
/// elsewhere. 0 <= low <= middle <= high <= 1, width at least 5.
std::string interval_bar(double low, double middle, double high, int width,
                         const TerminalStyle& style);

/// A difference on a line of `width` columns from -reach to reach, zero marked in the middle; what
/// lies beyond is cut off at the end. low <= middle <= high, reach above 0, width odd, at least 5.
std::string difference_bar(double low, double middle, double high, double reach, int width,
                           const TerminalStyle& style);

}  // namespace takehold::client
