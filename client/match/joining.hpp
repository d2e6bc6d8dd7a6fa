// May a scion and a rootstock be joined, and what does the rootstock bring?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/match/resistances.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"

namespace takehold::client {

/// A sentence in three parts, so that what is the same of several pairings can be said once: only
/// `whom` differs between them.
struct JoiningNote {
  std::string
      code{};  ///< virus-genes virus-genes-unknown mi-heat mi-heat-unknown race-unknown vigour
  std::string about{};   ///< the rootstock, or the bed
  std::string before{};  ///< "resistance of "
  std::string whom{};    ///< "Quarry Pink (none)": the scion or the rootstock it concerns
  std::string after{};   ///< " on Ironfoot (Tm-2^2): ..."

  std::string text() const { return before + whom + after; }
};

/// A resistance of the rootstock that the scion's own roots would not have, as far as known.
struct AddedResistance {
  std::string code{};
  Resistance level = Resistance::high;
  bool scion_is_known = false;  ///< false: whether the scion has it too is not known
};

/// A bed's known trouble against the rootstock's roots.
struct BedTrouble {
  std::string bed{};
  std::string code{};
  bool is_known = false;              ///< the rootstock's resistances are known at all
  std::optional<Resistance> level{};  ///< nothing, when known: it lacks it
};

struct Joining {
  std::vector<JoiningNote> notes{};
  std::vector<AddedResistance> adds{};
  std::vector<BedTrouble> troubles{};
};

/// What is published and common practice about such a pair:
/// - a rootstock with Tm-2 or Tm-2^2 and not Tm-1 under a scion with no such gene or only Tm-1:
/// once
///   infected such plants wilt and die (ASHS 2014, abstract 19949). What is unknown stays unknown.
/// - gene Mi against root knot (taken for it wherever Ma, Mi or Mj is resisted: common practice)
///   fades in soil above 28 degC and is lost after 48 h at 32 degC or 3 h at 35 degC (Turk. J.
///   Entomol. 42(4):313, 2018; J. Nematol. 47(2)). A bed with root knot and no known peak is told.
/// - a trouble of which the bed's race is not known, and the rootstock resists only some: told.
/// - interspecific rootstocks are vigorous: for few plants or small ones that is seldom worth their
///   seed (common practice).
Joining check_joining(const Variety& scion, const Variety& rootstock, int want,
                      const std::vector<Bed>& beds);

}  // namespace takehold::client
