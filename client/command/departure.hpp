// What lose and cull share: how many plants of what leave, checked against what stands.
#pragma once

#include <string>
#include <vector>

#include "client/command/outcomes.hpp"

namespace takehold::client {

/// A checked departure: `count` plants of `subject`, a key that stands.
struct Departure {
  std::string subject;
  int count = 0;
  std::vector<int> plants;
};

Departure checked_departure(const Book& book, const std::string& subject, const Gone& gone);

/// Adds --count and --plants.
struct TypedGone {
  std::optional<int> count;
  std::vector<int> plants;
  Gone gone() const { return {count, plants}; }
};

}  // namespace takehold::client
