// May a scion and a rootstock be joined, and what does the rootstock bring?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/match/resistances.hpp"
#include "client/season/pairing.hpp"
#include "client/season/place.hpp"

namespace takehold::client {

struct JoiningNote {
  std::string code{};  ///< virus-genes virus-genes-unknown mi-heat vigour
  std::string text{};
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
/// - gene Mi against root knot fades in soil above 28 degC and is lost after 48 h at 32 degC or 3 h
///   at 35 degC (Turk. J. Entomol. 42(4):313, 2018; J. Nematol. 47(2)).
/// - interspecific rootstocks are vigorous: for few plants or small ones that is seldom worth their
///   seed (common practice).
Joining check_joining(const Variety& scion, const Variety& rootstock, int want,
                      const std::vector<Bed>& beds);

}  // namespace takehold::client
