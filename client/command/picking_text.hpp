// Pickings as they are typed: what was picked from, then weights.
//
//   G3 12.4            all plants of G3 together, 12.4 kg
//   G3 3=1.25 5=0.9    plant by plant: plant 3 and plant 5
//   G3 3=850g/14       14 fruits; g, kg, oz and lb are known
//   south bed 31.2     a whole bed
//   2027-07-20 G3 12.4 on that day
// A bed whose name has a word that begins with a digit is put in quotation marks.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "client/season/words.hpp"
#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/mass.hpp"

namespace takehold::client {

struct Picking {
  std::string from{};  ///< a batch, a sowing or a bed, as typed; empty: not said
  std::optional<sensors::Day> on{};
  std::optional<int> plant{};
  sensors::Kilograms weight = sensors::Kilograms::kg(0);
  std::optional<int> fruits{};
  std::string where{};  ///< for messages
};

/// The pickings of one line; bare weights are in `units`, kg or lb. Throws Refused at `where`,
/// codes "bad-picking", "bad-number", "unknown-unit".
std::vector<Picking> pickings_of_line(std::string_view line, Units units, const std::string& where);

/// Of weights typed behind a subject that is given apart: {"3=1.25", "5=0.9"}.
std::vector<Picking> pickings_of(const std::string& from, const std::vector<std::string>& weights,
                                 Units units, const std::string& where);

/// A line a picking; blank lines and lines that begin with # do not count. `name` is the file's,
/// for messages: name:line.
std::vector<Picking> pickings_of_text(std::string_view text, Units units, const std::string& name);

}  // namespace takehold::client
