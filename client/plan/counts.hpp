// How many to sow or graft so that enough come of it: exactly, by whole distributions.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "client/season/chance.hpp"
#include "client/takes/take_model.hpp"

namespace takehold::client {

/// A confidence counts as reached from this much below: rounding, far less than any grower's 0.9.
inline constexpr double kReached = 1e-12;
/// No count above this is ever proposed.
inline constexpr int kMostCounted = 100'000;

/// P(at least `need` of `n` succeed), each with the same known probability `p`.
double binomial_tail(int need, int n, double p);
/// The same when `p` is believed to be `chance`: all n share one unknown p.
double beta_binomial_tail(int need, int n, Chance chance);
double beta_binomial_tail(int need, int n, const TakeBelief& belief);

/// The smallest n at which the tail reaches `confidence` (0 < confidence < 1); nothing above
/// kMostCounted. need <= 0 is 0.
std::optional<int> smallest_binomial(int need, double p, double confidence);
std::optional<int> smallest_beta_binomial(int need, Chance chance, double confidence);
std::optional<int> smallest_beta_binomial(int need, const TakeBelief& belief, double confidence);

/// P(exactly k of n succeed) for k = 0..n.
std::vector<double> beta_binomial_spread(int n, Chance chance);
std::vector<double> beta_binomial_spread(int n, const TakeBelief& belief);
/// What is left when each of a random number of plants is kept with probability `share`,
/// independently: `spread[k]` is P(k plants).
std::vector<double> thinned(std::span<const double> spread, double share);

/// Cells that n seeds fill at k a cell.
int cells_for(int seeds, int seeds_per_cell);

}  // namespace takehold::client
