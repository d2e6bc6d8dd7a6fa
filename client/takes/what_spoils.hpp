// What the grafts that failed have in common, as far as the counts carry.
//
// A logistic regression of take on mismatch, air in the first three days, dark hours, method and
// who grafted, each pairing with a level of its own drawn towards the others. It finds what goes
// with failure, never what causes it: grafts were not dealt out by chance.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/takes/beta_binomial.hpp"
#include "client/takes/graft_fate.hpp"

namespace takehold::client {

/// In the order in which they are taken up while the failures last.
enum class Factor { mismatch, outside, darkness, method, grafter };
template <>
struct EnumNames<Factor> {
  static constexpr Spelling<Factor, 5> value{{{Factor::mismatch, "mismatch"},
                                              {Factor::outside, "air outside its band"},
                                              {Factor::darkness, "darkness"},
                                              {Factor::method, "method"},
                                              {Factor::grafter, "who grafted"}}};
};

struct FactorEffect {
  Factor factor{};
  std::string of{};       ///< "0.1 mm more mismatch", "cleft rather than splice"
  double odds_ratio = 1;  ///< of a take
  double low = 0;         ///< 95 % interval
  double high = 0;
  double slope = 0;  ///< ln odds_ratio, and its standard error
  double slope_error = 0;
  /// A number's mean over the grafts judged, in the unit of `of`; for a method or a person the
  /// share of the grafts done that way.
  double usual = 0;

  bool is_clear() const { return low > 1 || high < 1; }
};

struct FactorLeftOut {
  Factor factor{};
  std::string code{};  ///< "not-noted" "no-difference" "too-few" "separated"
  std::string why{};   ///< a sentence
};

struct WhatSpoils {
  int grafts = 0;  ///< judged
  int failures = 0;
  int used = 0;  ///< grafts the regression rests on: those of which every factor is known
  std::vector<FactorEffect> effects{};
  std::vector<FactorLeftOut> left_out{};
  std::optional<double> pairing_sd{};  ///< between pairings, as log odds; none: one pairing only
  Scatter batches{};                   ///< do batches differ by more than chance
};

/// A factor is taken up only with at least this many failures (or takes, if they are fewer) for
/// each number it adds (common practice; 10 is often asked, 5 suffices with a weak prior).
inline constexpr int kFailuresAFactor = 5;

/// Unscored batches do not count.
WhatSpoils what_spoils(std::span<const BatchFate> batches);

}  // namespace takehold::client
