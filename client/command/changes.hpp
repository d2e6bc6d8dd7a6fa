// What is otherwise than a day ago, and why: the lines of `today` below its tasks.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/book/book.hpp"

namespace takehold::client {

struct Change {
  std::string about;  ///< "S12", "G7", "QP-24", or "plan"
  std::string text;   ///< what is otherwise
  std::string why;    ///< "told on 2027-04-12 09:12", "by its healing plan", "plan --accept"
};

nlohmann::json to_json(const Change& change);

/// Stages that passed, what was told, and lines of the plan that came, moved or went, after `since`
/// and up to `now`. In this order; within it as the book was told.
std::vector<Change> changes_since(const Book& book, sensors::Instant since, sensors::Instant now);

}  // namespace takehold::client
