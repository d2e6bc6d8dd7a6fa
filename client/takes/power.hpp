// How likely a trial of two ways is to show a difference that is there.
#pragma once

#include <optional>

namespace takehold::client {

/// The chance that Fisher's exact test, two-sided at `level`, tells p from q with `each` trials on
/// either side: every outcome summed, no approximation. 0 <= p, q <= 1; each from 1 to kMostExact.
double fisher_power(int each, double p, double q, double level = 0.05);
inline constexpr int kMostExact = 300;

/// The fewest trials on either side that reach `power`; nothing when kMostExact do not.
std::optional<int> trials_for_power(double p, double q, double power = 0.8, double level = 0.05);

}  // namespace takehold::client
