// Plants that grow on after the graft, or on their own roots: what setout, harvest and remark
// share.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/command/picking_text.hpp"
#include "client/command/recording.hpp"
#include "client/season/crop.hpp"

namespace takehold::client {

/// A batch that was finished, or a sowing, as somebody planting out sees it.
struct GrownPlants {
  std::string subject;  ///< "G7" or "S12"
  std::string variety;  ///< of the fruit: a batch's scion
  bool grafted = false;
  int numbers = 0;  ///< plants are numbered 1 to this
  int living = 0;   ///< in beds and not yet
  int in_bed = 0;

  int to_set_out() const { return living - in_bed; }
};

/// Codes "not-there"; "not-finished" for a batch whose takes are not counted.
GrownPlants grown_plants(const Book& book, const std::string& typed_subject);

/// The bed that is typed, or begins so; with none typed, the book's only one, or none. Codes
/// "not-there", "ambiguous".
std::string typed_bed(const Book& book, const std::string& typed);

struct SetOutOrder {
  std::string bed{};
  std::optional<int> count{};  ///< left out: all that are not set out yet
  std::vector<int> plants{};
  std::optional<sensors::Millimetres> union_height{};
};
/// Codes as above, "bad-count", "more-than-stand", "out-of-range", "no-union" for a sowing.
SetOut set_out(const Telling& telling, const std::string& subject, const SetOutOrder& order);

/// A union nearer the soil than this is warned of: the scion roots past the rootstock (common
/// practice: a hand's breadth is better still).
inline constexpr sensors::Millimetres kLowUnion = sensors::Millimetres::mm(25);

/// Records all of one telling as one command. Codes as above, "out-of-range", "not-set-out".
std::vector<Harvest> harvest(const Telling& telling, const std::vector<Picking>& pickings,
                             const std::string& words);

struct RemarkOrder {
  RemarkAbout about = RemarkAbout::other;
  std::string value{};  ///< the score, or which disease, or the words
  std::optional<int> count{};
  std::vector<int> plants{};
};
/// Codes as above; "bad-number" or "out-of-range" for a score, "no-union" for what only a graft can
/// have.
Remark remark(const Telling& telling, const std::string& subject, const RemarkOrder& order);

}  // namespace takehold::client
