// What is known of a seed lot after counting and measuring it.
#pragma once

#include <array>
#include <vector>

#include "client/growth/lot_record.hpp"
#include "client/growth/marginal.hpp"

namespace takehold::client {

/// One way the lot may be.
struct LotDraw {
  double viability = 1;     ///< g: share of its seeds that come up
  double ln_emergence = 0;  ///< ln e: the time they need, against the table
  double ln_vigour = 0;     ///< ln v
  double scatter = 0.1;     ///< sd of ln s among its seedlings
};

/// The joint posterior of (g, ln e, ln v) and the scatter, by quadrature: no random numbers, the
/// same record gives the same answer everywhere. One session of readings fixes only one combination
/// of e and v, so forecasts draw from the joint, never from the margins.
///
/// Cost: some thousand evaluations of the readings' likelihood; 20 readings: tens of milliseconds.
class LotPosterior {
 public:
  explicit LotPosterior(const LotSeen& lot);

  const Marginal& viability() const { return viability_; }
  const Marginal& ln_emergence() const { return ln_emergence_; }
  const Marginal& ln_vigour() const { return ln_vigour_; }
  const Marginal& ln_scatter() const { return ln_scatter_; }
  double correlation() const { return correlation_; }  ///< of ln e and ln v

  /// One draw from the joint, by inversion of five numbers between 0 and 1.
  LotDraw draw(const std::array<double, 5>& uniforms) const;

 private:
  /// A cell of (ln e, ln v), with all the mass up to and with it.
  struct Cell {
    double ln_emergence;
    double ln_vigour;
    double mass_so_far;
    std::size_t row;
    Marginal ln_scatter;
  };

  std::vector<Cell> cells_{};
  std::vector<Marginal> viability_by_row_{};  // one for each ln e
  double emergence_step_ = 0;
  double vigour_step_ = 0;
  double correlation_ = 0;
  Marginal viability_{};
  Marginal ln_emergence_{};
  Marginal ln_vigour_{};
  Marginal ln_scatter_{};
};

}  // namespace takehold::client
