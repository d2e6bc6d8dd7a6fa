// How much of a lot is alive, from its age, its origin and its tests in the book.
#pragma once

#include "client/book/book.hpp"
#include "client/season/chance.hpp"
#include "client/season/seed.hpp"

namespace takehold::client {

/// A share as people are told it: the mean, and the middle 90 %.
struct Share {
  double mean, p05, p95;
};

Share share_of(const Chance& chance);

/// The prior of its origin and age (bought and new where unknown) with every test of the book
/// added. Age counts to the season's year, or to now's where the book has no season.
Chance viability_chance(const Book& book, const Lot& lot, sensors::Instant now);
Share viability_of(const Book& book, const Lot& lot, sensors::Instant now);

}  // namespace takehold::client
