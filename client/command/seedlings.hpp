// emerged, thin, prick, measure, move: what a grower tells of seedlings before the graft.
//
// Each records one thing, or refuses and records nothing. Sowings and batches are named as typed:
// "S1", "g7". Refusals beside those of names: "bad-count", and what each function says.
#pragma once

#include <string>

#include "client/command/recording.hpp"
#include "client/season/sowing.hpp"

namespace takehold::client {

/// Plants standing, a total. "more-than-sown"; "fewer-than-before", for that is a loss.
Emerged emerged(const Telling& telling, const std::string& sowing, int standing);

/// Seedlings taken out of full cells. "more-than-stand".
Thinning thin(const Telling& telling, const std::string& sowing, int removed);

/// Seedlings set into cells of their own. "more-than-stand".
Pricking prick(const Telling& telling, const std::string& sowing, int plants);

/// Stems as typed, "2.0 2.1 5=2.3". It is a full measurement when as many were measured as stand.
/// "bad-diameter"; "no-such-seedling" for a number above what was sown.
Measurement measure(const Telling& telling, const std::string& sowing, const std::string& stems,
                    Units units);

/// "S1: 8 stems, 1.9 to 2.3 mm, mean 2.05 mm; not all that stand"
std::string measurement_text(const Measurement& record, Units units);

/// Trays carried to a bench or into the chamber. "already-there".
Move move(const Telling& telling, const std::string& subject, const std::string& place);

}  // namespace takehold::client
