// What a plan may say of where its take rates come from.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "client/takes/table.hpp"

namespace takehold::client {

/// The belief about one pairing, and what it rests on.
struct TakeKnowledge {
  TakeBelief belief{Chance{}};
  int own_grafts = 0;    ///< judged, of this pairing
  int other_grafts = 0;  ///< judged, of all others
  bool is_assumed() const { return own_grafts + other_grafts == 0; }
  /// "from 34 grafts of it", "from 120 grafts of other pairings", "assumed: no graft was judged".
  std::string source() const;
};

/// `all` are the pairings recorded, by names; one not among them learns from the others.
TakeKnowledge take_knowledge(std::span<const PairingTally> all, std::string_view pairing,
                             const TakePrior& prior = {});

}  // namespace takehold::client
