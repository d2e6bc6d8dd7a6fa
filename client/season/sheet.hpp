// The season sheet: one TOML file written by hand that says what the grower has and wants.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/season.hpp"
#include "client/season/seed.hpp"

namespace takehold::client {

/// A sheet that was read and found sound: every name it uses stands in it, nothing stands twice.
/// Pairings have no ids yet.
struct Sheet {
  Season season;
  std::vector<Bench> benches{};
  std::vector<Bed> beds{};
  std::vector<Variety> varieties{};
  std::vector<Lot> lots{};
  std::vector<LotTest> lot_tests{};
  std::vector<Pairing> pairings{};
  std::vector<OwnRoot> own_roots{};

  std::string file{};                                           ///< what it was called
  std::map<std::pair<Kind, std::string>, std::string> where{};  ///< (kind, identity) -> "file:line"
};

/// How a sheet knows a thing again at the next load: its key, for a pairing its two names.
template <class T>
std::string identity(const T& noun) {
  return noun.key();
}
inline std::string identity(const Pairing& pairing) {
  return pairing.names();
}

/// Reads and checks a sheet. Throws Refused with the first problem, its `where` "file:line"; if
/// there are more, `detail` lists them a line each. `file` is only for messages. Names of benches,
/// varieties and lots must be whole here, not cut.
Sheet read_sheet(std::string_view text, std::string_view file);

/// A sheet that read_sheet reads back to the same nouns. Defaults are left out.
std::string write_sheet(const Sheet& sheet);

/// A commented sheet to start from, named after the year of `ready_on`.
std::string new_sheet(Day ready_on, std::string_view time_zone);

}  // namespace takehold::client
