// A share of successes that is not known exactly, as a Beta distribution.
#pragma once

namespace takehold::client {

/// What is believed of a share between 0 and 1: of seeds that sprout, of grafts that take.
/// Beta(a, b) with both above 0; it weighs as much as a + b plants seen.
struct Chance {
  double a = 1;
  double b = 1;

  double mean() const { return a / (a + b); }
  double variance() const { return mean() * (1 - mean()) / (a + b + 1); }
  /// The belief after `yes` successes in `tried`, 0 <= yes <= tried.
  Chance after(int yes, int tried) const { return {a + yes, b + (tried - yes)}; }

  friend bool operator==(const Chance&, const Chance&) = default;
};

}  // namespace takehold::client
