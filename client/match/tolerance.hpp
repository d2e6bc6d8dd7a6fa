// How unequal two stems may be and still be joined.
#pragma once

#include <cstdint>
#include <optional>

#include "sensors/quantity/length.hpp"

namespace takehold::client {

/// Stem diameters in whole micrometres: the only form in which they are compared.
using Micrometres = std::int64_t;

/// The limit on mismatch, inclusive, decided in whole numbers so that 2.2 mm against 2.0 mm is
/// within 0.2 mm. Both its ends rise with the rootstock's diameter, which the matching relies on.
class Tolerance {
 public:
  /// |x - y| <= percent/100 of the pair's mean (x + y)/2. Kept to a thousandth of a percent;
  /// negative counts as 0; 200 or more allows every pair.
  static Tolerance percent_of_mean(double percent);
  /// |x - y| <= limit, kept to a micrometre; negative counts as 0.
  static Tolerance absolute(sensors::Millimetres limit);
  /// Every pair, whatever its mismatch.
  static Tolerance unlimited();

  /// The same, and the rootstock thinner than the scion by at most `limit` (0: not at all).
  Tolerance with_rootstock_thinner_by_at_most(sensors::Millimetres limit) const;

  bool allows(Micrometres rootstock, Micrometres scion) const;

 private:
  Tolerance(std::int64_t percent_thousandths, std::optional<Micrometres> absolute)
      : percent_thousandths_(percent_thousandths), absolute_(absolute) {}

  std::int64_t percent_thousandths_;
  std::optional<Micrometres> absolute_;
  std::optional<Micrometres> thinner_by_;
};

}  // namespace takehold::client
