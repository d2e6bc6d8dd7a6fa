// Counts and stems of many sowings in one table, as a phone or a spreadsheet writes them.
//
// The first line names the columns, in any order; further columns do no harm. Mistakes refuse the
// whole table with file:line.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "client/command/recording.hpp"
#include "client/season/sowing.hpp"

namespace takehold::client {

/// Columns sowing, diameter_mm and, if it is there, number; without it, or where it is empty, a
/// sowing's stems count on.
struct StemTable {
  struct Group {
    std::string sowing;
    std::string stems;  ///< as `measure` takes them typed: "1=2.1 2=2.0", in mm
    std::string where;  ///< of its first row
  };
  std::vector<Group> groups;
};
StemTable stem_table(std::string_view text, const std::string& file);

/// Records all of them as one command. Refusals as `measure`'s, `where` the group's first row.
std::vector<Measurement> measure_table(const Telling& telling, const StemTable& table,
                                       const std::string& words);

/// Columns sowing and standing.
struct CountRow {
  std::string sowing;
  int standing = 0;
  std::string where;
};
std::vector<CountRow> count_table(std::string_view text, const std::string& file);

/// Likewise, refusals as `emerged`'s.
std::vector<Emerged> emerged_table(const Telling& telling, const std::vector<CountRow>& rows,
                                   const std::string& words);

}  // namespace takehold::client
