// What is believed of take rates: every pairing's own, each learning from all the others.
//
// The take rate of pairing j is p_j ~ Beta(a, b), its grafts take independently with p_j, and (a,
// b) is common to all pairings and itself uncertain. One model serves the table of takes,
// comparisons and the plan.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "client/season/chance.hpp"
#include "client/takes/interval.hpp"

namespace takehold::client {

/// A belief about one share as a mixture of Beta distributions; weights are above 0 and sum to 1.
class TakeBelief {
 public:
  struct Part {
    double weight;
    Chance chance;
  };
  explicit TakeBelief(std::vector<Part> parts) : parts_(std::move(parts)) {}
  explicit TakeBelief(Chance chance) : parts_{{1.0, chance}} {}

  double mean() const;
  double sd() const;
  double below(double share) const;  ///< chance that the share is below this one, 0..1
  double quantile(double p) const;   ///< 0 < p < 1
  std::span<const Part> parts() const { return parts_; }

 private:
  std::vector<Part> parts_;
};

/// The belief about (a, b) before any graft.
struct TakePrior {
  enum class Kind {
    proper,     ///< ln(a/b) and ln(a+b) normal (assumed numbers below)
    published,  ///< density (a+b)^(-5/2) of Gelman et al., for checking against print only: it is
                ///< improper, and cut off at a + b = 1000
  };
  Kind kind = Kind::proper;
  double log_ratio_mean = 1.5;
  double log_ratio_sd = 0.6;
  double log_weight_mean = 3.4011973816621555;  ///< ln 30
  double log_weight_sd = 0.7;
};

/// The belief about (a, b) after all grafts, on a grid of ln(a/b) and ln(a+b).
class TakeModel {
 public:
  /// `tallies` are the pairings' counts, taken among those whose fate is known; pairings without
  /// any add nothing. Takes some ten milliseconds.
  explicit TakeModel(std::span<const Tally> tallies, const TakePrior& prior = {});

  double mean_a() const;
  double mean_b() const;
  /// Of a pairing with these counts, which must be among those the model was made of.
  TakeBelief belief(Tally tally) const;
  /// Of a pairing never tried.
  TakeBelief belief_untried() const { return belief({}); }
  /// P(take rate of a > take rate of b), both among those the model was made of.
  double probability_better(Tally a, Tally b) const;

 private:
  std::vector<TakeBelief::Part> common_;  // weight and (a, b)
};

}  // namespace takehold::client
