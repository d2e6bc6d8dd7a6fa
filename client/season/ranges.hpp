// What no type says of a noun: which numbers and words can be meant. One description for the sheet,
// where a mistake is told beside its line, and for tables that are taken in.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "client/season/batch.hpp"
#include "client/season/crop.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"
#include "client/season/season.hpp"
#include "client/season/seed.hpp"
#include "client/season/sowing.hpp"

namespace takehold::client {

/// Told of every rule: whether it holds, the column it is about, and how it goes on behind the
/// column's name: "is 1 or more".
using Require = std::function<void(bool holds, std::string_view column, const char* rule)>;

void ranges(const Season& season, const Require& require);
void ranges(const Bench& bench, const Require& require);
void ranges(const Bed& bed, const Require& require);
void ranges(const Variety& variety, const Require& require);
void ranges(const Lot& lot, const Require& require);
void ranges(const LotTest& test, const Require& require);
void ranges(const SeedCount& count, const Require& require);
void ranges(const Pairing& pairing, const Require& require);
void ranges(const OwnRoot& own_root, const Require& require);
void ranges(const Sowing& sowing, const Require& require);
void ranges(const Emerged& emerged, const Require& require);
void ranges(const Thinning& thinning, const Require& require);
void ranges(const Pricking& pricking, const Require& require);
void ranges(const Measurement& measurement, const Require& require);
void ranges(const Move& move, const Require& require);
void ranges(const Batch& batch, const Require& require);
void ranges(const BatchEvent& event, const Require& require);
void ranges(const Loss& loss, const Require& require);
void ranges(const Cull& cull, const Require& require);
void ranges(const Finish& finish, const Require& require);
void ranges(const Exposure& exposure, const Require& require);
void ranges(const PlannedSowing& line, const Require& require);
void ranges(const PlannedGraft& line, const Require& require);
void ranges(const SetOut& set_out, const Require& require);
void ranges(const Harvest& harvest, const Require& require);
void ranges(const Remark& remark, const Require& require);
void ranges(const Tending& tending, const Require& require);
inline void ranges(const SeasonClose& /*any*/, const Require& /*require*/) {}

/// A union deeper or higher than this is a slip of the hand (assumed).
inline constexpr Millimetres kLowestUnion = Millimetres::mm(-300);
inline constexpr Millimetres kHighestUnion = Millimetres::mm(1000);
/// More than this in one picking is a slip of the hand, as grams for kilograms (assumed).
inline constexpr Kilograms kMostOfPlant = Kilograms::kg(40);
inline constexpr Kilograms kMostPicked = Kilograms::kg(5000);

}  // namespace takehold::client
