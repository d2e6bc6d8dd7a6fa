// What counts of plants standing say of a lot. Only for the sources of this folder.
#pragma once

#include <vector>

#include "client/growth/lot_record.hpp"

namespace takehold::client {

/// The increments between a sowing's counts and the seeds that have not come up are multinomial in
/// g (F(t_i) - F(t_(i-1))) and 1 - g F(t_k): counts are no independent binomials. F is the share of
/// living seeds up by an age when the lot's factor is e.
class CountLikelihood {
 public:
  /// Borrows the record.
  explicit CountLikelihood(const LotSeen& lot);

  /// Shares at which g is looked at: evenly from 0 to 1.
  static constexpr int kShares = 401;
  static double share(int index) { return index / (kShares - 1.0); }

  /// At ln e: ln of (likelihood times prior density) at each share of g, up to one constant for
  /// all.
  std::vector<double> log_by_share(double ln_e) const;

 private:
  const LotSeen& lot_;
  double spread_;
  int came_up_ = 0;
};

}  // namespace takehold::client
