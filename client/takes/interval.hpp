// How sure a share of successes is, from counts alone.
#pragma once

#include "client/season/chance.hpp"
#include "client/season/normal.hpp"

namespace takehold::client {

/// Successes among trials; 0 <= yes <= tried.
struct Tally {
  int yes = 0;
  int tried = 0;

  friend bool operator==(const Tally&, const Tally&) = default;
};

struct Interval {
  double low;
  double high;
};

/// Wilson's score interval for a share (Wilson 1927). With nothing tried it is 0..1.
Interval wilson(Tally tally, double confidence = 0.95);

/// Newcombe's interval for the difference of two shares, a - b (Newcombe 1998, method 10), made of
/// their Wilson intervals.
Interval newcombe(Tally a, Tally b, double confidence = 0.95);

/// Fisher's exact test of the table yes/no by a/b: the chance of a table no likelier than this one
/// if both shares were equal. 1 when either was not tried.
double fisher_two_sided(Tally a, Tally b);

/// The same, one-sided: the chance of at least as many successes of a as these.
double fisher_greater(Tally a, Tally b);

/// The share that a belief lies below with probability `p`, 0 < p < 1.
double quantile(Chance chance, double p);

double log_choose(int n, int k);      ///< ln of the ways to choose k of n
double log_beta(double a, double b);  ///< ln of Euler's beta function; a, b above 0

}  // namespace takehold::client
