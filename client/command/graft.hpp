// graft: a session that makes a batch of one pairing and puts it into the chamber.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/command/pairs_file.hpp"
#include "client/command/recording.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {

struct GraftOrder {
  std::string pairing;                  ///< as typed
  std::optional<int> count{};           ///< this many, seedlings not noted; or
  std::vector<SeedlingPair> pairs{};    ///< exactly these
  std::optional<Method> method{};       ///< left out: the pairing's
  std::optional<std::string> regime{};  ///< a name or a file; left out: the season's
  std::string by{};
  std::vector<std::string>
      rootstock_from{};  ///< sowings; left out: the only ones that can be meant
  std::vector<std::string> scion_from{};
};

/// Records the batch; it stands in the chamber from then on. Refuses "bad-count", "which-sowing"
/// when several can be meant, "no-seedlings", "more-than-stand", "wrong-variety", "twice", and what
/// finding the regime refuses.
Batch graft(const Telling& telling, const GraftOrder& order);

/// Sowings whose seedlings may become this side of a graft: of the variety, not kept for their own
/// roots, and with plants that stand or were never counted.
std::vector<Sowing> eligible_sowings(const Book& book, const std::string& variety);

}  // namespace takehold::client
