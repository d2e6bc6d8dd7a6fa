// What every pairing's plan of one season is worked out from.
#pragma once

#include "client/plan/pairing_draft.hpp"

namespace takehold::client {

/// The bench where sowings start; the default where the request has none.
BenchCycle start_bench(const PlanRequest& request);

/// Makes a PlanBasis out of a request, and owns its parts. Neither copied nor moved; the request
/// outlives it.
class SeasonBasis {
 public:
  explicit SeasonBasis(const PlanRequest& request);
  SeasonBasis(const SeasonBasis&) = delete;
  SeasonBasis& operator=(const SeasonBasis&) = delete;

  const PlanBasis& basis() const { return basis_; }
  const Course& course() const { return course_; }
  /// Days around a graft day, within the season's window, on which there is time to graft.
  std::vector<int> shifts_around(Day graft_on) const;

 private:
  Course course_;
  TakeModel takes_;
  MatchCounter counter_, any_mismatch_, any_size_;
  PlanBasis basis_;
};

}  // namespace takehold::client
