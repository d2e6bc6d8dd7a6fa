// What earlier seasons say of a variety's speed, for a lot of it that was never sown.
//
// A lot's ln v (and ln e) is the variety's own part plus the lot's: both N(0, half of the prior's
// variance) (assumed). Facts of a lot expire with it; what it told of its variety keeps half its
// weight a year (assumed).
#pragma once

#include <span>

namespace takehold::client {

/// A belief about a logarithm, normal.
struct LogBelief {
  double mean = 0;
  double sd = 1;  ///< above 0
};

/// What one lot's measurements left to believe, and how long ago that was.
struct PastSpeed {
  LogBelief learned{};   ///< after its season, from `prior` below
  double years_ago = 1;  ///< 0 or more
};

/// The prior of the variety's next lot. With nothing learned it is `prior`; its sd never falls
/// below that part of it which is the new lot's own.
LogBelief carried_over(LogBelief prior, std::span<const PastSpeed> past);

/// The same of a lot that was itself sown in earlier seasons and has seed left: what it showed then
/// (`own`, learned from `prior`) keeps half its weight a year, but speaks of this very lot.
LogBelief sharpened(LogBelief carried, LogBelief prior, std::span<const PastSpeed> own);

}  // namespace takehold::client
