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
  std::string repairs{};  ///< "G6": its failed grafts are made again, on the same rootstocks
  std::optional<Instant> started_at{};
  std::optional<Millimetres> clip{};
  std::optional<double> cut_angle_deg{}, lamp_umol{}, humidity_pct{};
};

/// The batch as it would be recorded. Stems measured within a day before are noted with it. Refuses
/// "bad-count", "which-sowing" when several can be meant, "no-seedlings", "more-than-stand",
/// "wrong-variety", "twice", "grafted-already", and what finding the regime refuses; of a repair
/// "wrong-pairing", "more-than-failed" and "not-failed".
Batch draft_graft(const Telling& telling, const GraftOrder& order);

/// Records it; it stands in the chamber from then on.
Batch graft(const Telling& telling, const GraftOrder& order);

/// Asks for pair after pair, each checked at once; `u` takes back the last, Enter ends. Gives the
/// order with its pairs, or with a count where a bare number was typed.
GraftOrder ask_for_pairs(Context& context, const Telling& telling, GraftOrder order);

/// Sowings whose seedlings may become this side of a graft: of the variety, not kept for their own
/// roots, and with plants that stand or were never counted.
std::vector<Sowing> eligible_sowings(const Book& book, const std::string& variety);

}  // namespace takehold::client
