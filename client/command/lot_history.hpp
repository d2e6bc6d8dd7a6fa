// What the book's seasons say of each lot.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/growth/lot_knowledge.hpp"

namespace takehold::client {

/// How many seasons before the book's present one something happened: 0 within it; whole years
/// before its ready_on, and at least 1 once a season that it belonged to was closed.
int years_ago(const Book& book, sensors::Instant at);

/// The variety's lots, in the book's order, with all sowings until `now`.
std::vector<LotHistory> histories_of(const Book& book, const std::string& variety,
                                     sensors::Instant now);

/// What is known of every lot, by label.
std::map<std::string, LotKnowledge> known_lots(const Book& book, sensors::Instant now);

}  // namespace takehold::client
