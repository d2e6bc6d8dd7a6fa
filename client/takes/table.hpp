// Take rates as a grower reads them: one row a pairing, and two pairings against each other.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/takes/take_model.hpp"

namespace takehold::client {

/// A pairing's counts: grafts whose fate is known, and how many of them took.
struct PairingTally {
  std::string pairing;
  Tally tally;
};

/// One row of the table of takes.
struct TakeRow {
  std::string pairing;
  int grafted = 0;
  int taken = 0;
  std::optional<double> rate;  ///< taken / grafted; nothing while none was grafted
  double mean = 0;             ///< of the belief
  double p05 = 0;              ///< the rate is below it 1 time in 20, ...
  double p95 = 0;              ///< ... above it 1 time in 20
  double wilson_low = 0;       ///< 95 % interval from this pairing's counts alone
  double wilson_high = 1;
};

/// A row for each pairing in the order given, each learning from all. Throws Refused code
/// "bad-count", naming the pairing, unless 0 <= taken <= grafted.
std::vector<TakeRow> take_rows(std::span<const PairingTally> pairings, const TakePrior& prior = {});

/// The prior as one row: what is believed with no record at all.
TakeRow prior_row(const TakePrior& prior = {});

/// Pairing a against pairing b.
struct Comparison {
  double probability_a_better = 0.5;
  double fisher_p = 1;
  Interval difference{-1, 1};  ///< rate of a minus rate of b, Newcombe, 95 %
  /// Further grafts of each until a difference like the one seen would be found with 90 % power at
  /// the 5 % level; nothing when they differ by less than 1 percentage point or one was not tried.
  std::optional<int> more_needed_each;
};

/// `all` holds both and every other pairing they learn from.
Comparison compare_takes(std::span<const PairingTally> all, std::size_t a, std::size_t b,
                         const TakePrior& prior = {});

/// Trials each side that find p against q with `power`, two-sided at `level` (normal approximation
/// without correction). p != q, both strictly inside 0..1 or not both on the same end.
double trials_needed_each(double p, double q, double power = 0.90, double level = 0.05);

}  // namespace takehold::client
