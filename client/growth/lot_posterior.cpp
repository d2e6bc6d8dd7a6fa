#include "client/growth/lot_posterior.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "client/growth/lot_lattice.hpp"

namespace takehold::client {
namespace {

void add_scaled(std::vector<double>& sum, const std::vector<double>& more, double scale) {
  sum.resize(more.size());
  for (std::size_t i = 0; i < more.size(); ++i) sum[i] += scale * more[i];
}

double total_of(const std::vector<double>& masses) {
  double total = 0;
  for (const double mass : masses) total += mass;
  return total;
}

// Cells at whole places, gaps without mass filled in.
Marginal marginal_of(const std::map<int, double>& by_place, double zero, double step) {
  const int first = by_place.begin()->first;
  std::vector<double> masses(static_cast<std::size_t>(by_place.rbegin()->first - first + 1));
  for (const auto& [place, mass] : by_place) {
    masses[static_cast<std::size_t>(place - first)] = mass;
  }
  return Marginal(zero + first * step, step, std::move(masses));
}

Marginal share_marginal(std::vector<double> masses) {
  return Marginal(CountLikelihood::share(0), CountLikelihood::share(1), std::move(masses));
}

}  // namespace

LotPosterior::LotPosterior(const LotSeen& lot) {
  LotLattice lattice(lot);
  lattice.refine();
  correlation_ = lattice.correlation();
  emergence_step_ = lattice.ln_e(1) - lattice.ln_e(0);
  vigour_step_ = lattice.ln_v(1) - lattice.ln_v(0);
  const auto& scatters = lattice.scatters();
  const double scatter_step = scatters[1] - scatters[0];
  std::map<int, double> by_e, by_v;
  std::vector<double> by_scatter, by_share;
  double running = 0;
  for (const auto& cell : lattice.cells()) {
    if (by_e.empty() || by_e.rbegin()->first != cell.e) {
      viability_by_row_.push_back(share_marginal(lattice.by_share(cell.e)));
    }
    by_e[cell.e] += cell.mass;
    by_v[cell.v] += cell.mass;
    add_scaled(by_scatter, cell.by_scatter, 1);
    running += cell.mass;
    cells_.push_back({lattice.ln_e(cell.e), lattice.ln_v(cell.v), running,
                      viability_by_row_.size() - 1,
                      Marginal(scatters.front(), scatter_step, cell.by_scatter)});
  }
  for (Cell& cell : cells_) cell.mass_so_far /= running;
  for (const auto& [e, mass] : by_e) {
    const auto& shares = lattice.by_share(e);
    add_scaled(by_share, shares, mass / total_of(shares));
  }
  viability_ = share_marginal(std::move(by_share));
  ln_emergence_ = marginal_of(by_e, lattice.ln_e(0), emergence_step_);
  ln_vigour_ = marginal_of(by_v, lattice.ln_v(0), vigour_step_);
  ln_scatter_ = Marginal(scatters.front(), scatter_step, std::move(by_scatter));
}

LotDraw LotPosterior::draw(const std::array<double, 5>& uniforms) const {
  const auto found =
      std::lower_bound(cells_.begin(), cells_.end(), uniforms[0],
                       [](const Cell& cell, double uniform) { return cell.mass_so_far < uniform; });
  const Cell& cell = found == cells_.end() ? cells_.back() : *found;
  LotDraw draw;
  draw.ln_emergence = cell.ln_emergence + (uniforms[1] - 0.5) * emergence_step_;
  draw.ln_vigour = cell.ln_vigour + (uniforms[2] - 0.5) * vigour_step_;
  draw.scatter = std::exp(cell.ln_scatter.quantile(uniforms[3]));
  draw.viability = std::clamp(viability_by_row_[cell.row].quantile(uniforms[4]), 0.0, 1.0);
  return draw;
}

}  // namespace takehold::client
