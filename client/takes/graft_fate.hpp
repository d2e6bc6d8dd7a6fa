// What became of every graft of a batch, and grafts gathered by what they have in common.
//
// A batch tells how many grafts took and how many were lost; which ones they were is known only as
// far as the grower noted numbers. Pure: built from the nouns alone, no book, no clock.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/season/batch.hpp"
#include "client/takes/table.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

enum class Fate {
  taken,
  lost,
  out,  ///< thrown out or given away before it could be judged: counts in no rate
};

struct GraftFate {
  int number = 0;
  std::optional<Millimetres> mismatch{};  ///< |rootstock - scion|; none: a stem was not noted
  std::optional<Fate> fate{};             ///< none: one of several, not said which
};

/// Grafts that died of one thing on one day.
struct LossNote {
  Cause cause = Cause::unknown;
  int day = 0;  ///< after grafting, by the calendar
  int count = 0;
  std::optional<LateLoss> late{};  ///< of one that had taken
};

struct BatchFate {
  std::string batch{}, pairing{}, scion{}, rootstock{}, by{}, regime{};  ///< pairing by its names
  Method method = Method::splice;
  Day grafted_on{};
  bool scored = false;  ///< finished on day 6 or later; else it is pending and counts in no rate
  int taken = 0;
  int lost = 0;
  std::optional<double> dark_hours{};     ///< that its healing plan kept it dark
  std::optional<double> outside_hours{};  ///< out of the band in its first three days, as observed
  std::vector<GraftFate> grafts{};
  std::vector<LossNote> losses{};        ///< of grafts that failed
  std::vector<LossNote> later_losses{};  ///< of plants that had taken

  int judged() const { return taken + lost; }
};

/// What the records of one batch say. `losses` and `culls` are its own; days go by `zone`. Hours
/// dark and outside are not known here and stay empty.
BatchFate fate_of(const Batch& batch, std::span<const Loss> losses, std::span<const Cull> culls,
                  const std::optional<Finish>& finish, const sensors::TimeZone& zone);

/// What grafts are gathered by.
enum class GroupBy { pairing, rootstock, scion, method, grafter, regime, mismatch, month };
template <>
struct EnumNames<GroupBy> {
  static constexpr Spelling<GroupBy, 8> value{{{GroupBy::pairing, "pairing"},
                                               {GroupBy::rootstock, "rootstock"},
                                               {GroupBy::scion, "scion"},
                                               {GroupBy::method, "method"},
                                               {GroupBy::grafter, "operator"},
                                               {GroupBy::regime, "regime"},
                                               {GroupBy::mismatch, "mismatch"},
                                               {GroupBy::month, "month"}}};
};

/// "under 0.1 mm" ... "0.3 mm or more", or "not noted".
std::string mismatch_class(std::optional<Millimetres> mismatch);

/// One tally a group: names in the order of their first batch, months by the calendar, mismatch
/// from small to large. Grafts of a batch whose fate is not known one by one stand under "not told
/// apart" when gathered by mismatch. Only scored batches count; a group with none is left out,
/// except by pairing, where it stands with 0 of 0.
std::vector<PairingTally> tallies_by(GroupBy by, std::span<const BatchFate> batches);

}  // namespace takehold::client
