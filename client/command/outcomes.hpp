// lose, cull, finish: what became of plants.
//
// "wilted", "rotted" and so on are causes of losses; spares thrown out or given away are none.
// `subject` is a sowing or a batch as typed. Refusals beside those of names: "bad-count",
// "more-than-stand", "no-such-graft", and what each function says.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/command/recording.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {

/// How many went, or exactly which.
struct Gone {
  std::optional<int> count{};
  std::vector<int> plants{};  ///< their numbers; then `count` may be left out
};

/// What dies after a batch's takes were counted is no failed graft: it was lost while hardening or
/// in its bed, as `late` says, or else as the plants were set out. "already-counted" for a time
/// before the count; "not-finished" for a `late` of a batch not counted; "which-plants" where some
/// stand in beds, some do not, and nothing tells which died.
Loss lose(const Telling& telling, const std::string& subject, const Gone& gone, Cause cause,
          std::optional<LateLoss> late = {});

Cull cull(const Telling& telling, const std::string& subject, const Gone& gone, bool given);

struct FinishOrder {
  std::optional<int> taken{};  ///< left out: all that still live
  int given = 0;               ///< of the taken, given away
  bool early = false;          ///< before day 6: stays out of rates
};

/// The earliest day after grafting on which a take is scored (published: day 6 to 14).
inline constexpr sensors::Days kFirstScoringDay{6};

/// Counts a batch's takes. Of those that live by the book, the ones not taken are recorded as lost
/// by an unknown cause, so that grafted = taken + lost + pending. "too-early" before day 6;
/// "already-finished"; "more-than-live".
Finish finish(const Telling& telling, const std::string& batch, const FinishOrder& order);

}  // namespace takehold::client
