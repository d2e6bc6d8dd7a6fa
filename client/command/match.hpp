// match: who goes onto whom, as shown.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/match/matching.hpp"
#include "client/season/words.hpp"
#include "client/terminal/style.hpp"
#include "sensors/quantity/length.hpp"

namespace takehold::client {

/// One side of a match: stems in the order given, with the seedlings' names where they have any.
struct StemSide {
  std::vector<Micrometres> stems{};
  std::vector<std::string> names{};  ///< "S12-5" and so on; empty when the stems come from a file
  std::vector<bool> lone{};          ///< its sowing is the only one that can be meant: R5 is enough
};

/// Pairs of one pairing.
struct MatchShare {
  std::string pairing{}, scion{}, rootstock{};
  int count = 0;
  std::optional<int> wanted{};  ///< the most that were to be made
  Micrometres mismatch = 0;

  bool is_served() const { return wanted && count >= *wanted; }
};

/// What becomes of a stem that found no partner.
struct LeftOverLine {
  Side side = Side::rootstock;
  std::size_t stem = 0;          ///< a place in its side
  std::string what{};            ///< stable: tomorrow later cooler discard
  std::optional<int> in_days{};  ///< of tomorrow, later and cooler, where it can be said
  std::optional<std::size_t> partner{};
  std::optional<Micrometres> then{};  ///< its own diameter by then
  std::string reason{};
};

/// Two sides and the best matching of them.
struct StemMatch {
  StemSide rootstocks{};
  StemSide scions{};
  Matching matching{};
  std::vector<std::string> pairings{};    ///< of each pair, "P1"; empty for files
  std::vector<MatchShare> shares{};       ///< one a pairing; empty for files
  std::vector<LeftOverLine> left_over{};  ///< all that are left over, rootstocks first
};

std::vector<Micrometres> whole_micrometres(std::span<const sensors::Millimetres> stems);

/// The clip that goes over both stems: the thicker one's.
Micrometres clip_for(const StemMatch& match, const StemPair& pair);

/// How a grower writes the pair down, and `graft` reads it: "R7-S3", or in full "S12-7 S13-3" where
/// several sowings can be meant.
std::string pair_code(const StemMatch& match, const StemPair& pair);

/// The pairs of one pairing, in the order of the rootstocks' trays: places in matching.pairs. All
/// for files, where `pairing` is empty.
std::vector<std::size_t> pairs_of(const StemMatch& match, const std::string& pairing);

/// {pairs, count, mismatch_total_mm, left_over{rootstocks, scions}, clips, left_over_stems,
/// pairings}: indices from 0, in the order given; named stems carry `rootstock_seedling` and
/// `scion_seedling` as well.
nlohmann::json to_json(const StemMatch& match);

/// A sheet to work from: a table for each pairing, the clips to lay out, what to do with the rest.
std::string match_text(const StemMatch& match, const TerminalStyle& style);

}  // namespace takehold::client
