// How many grafts each pairing still wants.
#pragma once

#include "client/book/book.hpp"
#include "client/plan/season_plan.hpp"
#include "client/takes/take_model.hpp"

namespace takehold::client {

class GraftsWanted {
 public:
  /// Borrows the book and the plan's request, which holds the season and the own take rates.
  GraftsWanted(const Book& book, const PlanRequest& plan);

  /// Grafts of this season that live, or took and were given away.
  int made(const Pairing& pairing) const;
  TakeBelief take(const Pairing& pairing) const;
  /// What the accepted plan says less what was made since; without a plan the fewest that reach the
  /// season's confidence. 0 where enough plants live.
  int still(const Pairing& pairing) const;

 private:
  const Book& book_;
  const PlanRequest& plan_;
  TakeModel takes_;
};

}  // namespace takehold::client
