// Do groups of grafts differ by more than chance? The beta-binomial distribution fitted to them.
#pragma once

#include <optional>
#include <span>

#include "client/takes/interval.hpp"

namespace takehold::client {

/// What the sum over the tallies of ln P(yes | tried, a, b) is, binomial coefficients included.
double beta_binomial_log_likelihood(std::span<const Tally> tallies, Chance chance);

/// The Beta(a, b) that makes the tallies likeliest, found by Newton's method on ln a, ln b. Nothing
/// where there is none: the groups differ by no more than chance, or all ended alike.
std::optional<Chance> likeliest_beta(std::span<const Tally> tallies);

/// Groups against chance.
struct Scatter {
  int groups = 0;
  /// Chance of groups at least this different if all had one rate: likelihood ratio, half its
  /// chi-square with one degree, for the scatter cannot be below none (Self & Liang 1987, J. Amer.
  /// Statist. Assoc. 82:605). 1 where they differ by no more than chance.
  double p = 1;
  double rate_sd = 0;  ///< between groups, of the rate
};

/// Groups without trials are left out; fewer than two give p = 1.
Scatter scatter_of(std::span<const Tally> tallies);

}  // namespace takehold::client
