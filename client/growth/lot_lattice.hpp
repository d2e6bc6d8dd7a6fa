// The lattice on which a lot's posterior is added up. Only for the sources of this folder.
//
// Even spacing in (ln e, ln v): for a smooth density that dies out at the edges the plain sum
// converges faster than any power of the spacing once that is near the density's own width. So the
// lattice starts coarse over the whole prior, keeps what has any mass, and halves its spacing there
// until the moments stand still.
#pragma once

#include <map>
#include <utility>
#include <vector>

#include "client/growth/count_likelihood.hpp"
#include "client/growth/stem_likelihood.hpp"

namespace takehold::client {

class LotLattice {
 public:
  /// Borrows the record.
  explicit LotLattice(const LotSeen& lot);

  /// Refines until the moments move less than 1 % of their sd.
  void refine();

  struct Moments {
    double mean_e = 0, mean_v = 0, sd_e = 0, sd_v = 0, covariance = 0;
  };
  /// A point with its share of the mass, the greatest of which is 1 or a little more.
  struct Cell {
    int e, v;  // its place
    double mass;
    std::vector<double> by_scatter;
  };
  /// Ordered by e, then v.
  std::vector<Cell> cells() const;
  /// Density of g at the lattice's ln e, not normalised.
  const std::vector<double>& by_share(int e) const { return rows_.at(e).by_share; }
  const std::vector<double>& scatters() const { return stems_.scatters(); }
  double correlation() const;

  double ln_e(int place) const;
  double ln_v(int place) const;

 private:
  using Place = std::pair<int, int>;  // of ln e, of ln v
  /// One ln e: what the counts say there.
  struct Row {
    double log_evidence = 0;  // of the counts, over g, with the prior of ln e
    std::vector<double> by_share{};
  };

  void evaluate(const std::vector<Place>& places);
  const Row& row_at(int place);
  double highest() const;
  std::vector<Place> refined() const;
  void keep_likely_scatters();
  Moments moments() const;

  CountLikelihood counts_;
  StemLikelihood stems_;
  std::size_t seedlings_ = 0;
  LogBelief prior_e_;
  LogBelief prior_v_;
  int level_ = 0;  // each halves the spacing
  std::map<int, Row> rows_{};
  std::map<Place, std::vector<double>> points_{};  // ln density by scatter, with its prior
};

}  // namespace takehold::client
