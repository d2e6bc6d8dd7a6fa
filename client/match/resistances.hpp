// The resistances a seed house prints on a packet, in the codes of the seed trade (ISF).
#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace takehold::client {

/// High resistance strongly limits the pest; intermediate limits it, with more symptoms.
enum class Resistance { intermediate, high };

/// Single codes with their races spelt out: "ToMV:0-2" is ToMV:0, ToMV:1 and ToMV:2.
struct Resistances {
  std::set<std::string> high{};
  std::set<std::string> intermediate{};

  /// Against a trouble: a code with races is met by that race; a code without is met by any race.
  std::optional<Resistance> against(std::string_view trouble) const;
  /// "Fol:0", "Fol:1" for "Fol" where only single races of it are resisted; empty where it is
  /// resisted whole or not at all, and for a trouble that names its race.
  std::vector<std::string> races_of(std::string_view trouble) const;
};

/// Reads "HR: ToMV:0-2, Fol:0,1, Va; IR: Ma, Mi". What stands before any HR or IR counts as
/// intermediate, the lesser promise. Nothing where the text is empty: not known, which is not
/// "none".
std::optional<Resistances> read_resistances(std::string_view text);

}  // namespace takehold::client
