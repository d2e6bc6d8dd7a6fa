// How likely enough grafts take, for any number of them made.
#pragma once

#include <vector>

#include "client/takes/take_model.hpp"

namespace takehold::client {

/// P(at least `want` of g grafts take) for g = 0..most, exactly: all g share one unknown rate.
/// Rises with g. Cost: parts of the belief times `most`.
std::vector<double> take_tail(const TakeBelief& belief, int want, int most);

/// Expected number of g grafts that take, no more than `want` of them counted, for g = 0..most.
std::vector<double> useful_takes(const TakeBelief& belief, int want, int most);

}  // namespace takehold::client
