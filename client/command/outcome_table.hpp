// A CSV of outcomes, as `takes --from` reads it: pairing,grafted,taken.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {

/// Grafts made and grafts that lived, of one pairing. 0 <= taken <= grafted.
struct OutcomeRow {
  std::string pairing;
  int grafted = 0;
  int taken = 0;
};

/// Reads the table: a header naming the three columns in any order, further columns ignored,
/// fields quoted as in RFC 4180, rows of one pairing added up. Blank and # lines do not count.
/// Refuses with file:line, code "bad-outcomes".
std::vector<OutcomeRow> read_outcomes(std::string_view text, const std::string& file);

}  // namespace takehold::client
