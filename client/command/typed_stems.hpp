// Stem diameters as a grower writes them: in a file, one a line, or after `measure`.
//
// A decimal comma is as good as a point; a suffix (mm, in) wins over the book's units. A diameter
// no seedling has is refused, for it is nearly always a lost decimal point: 23 for 2.3.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "client/terminal/numbers.hpp"
#include "sensors/quantity/length.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {

/// Diameters outside this are refused. A tomato fit for grafting is 1.5 to 2.6 mm thick.
struct StemLimits {
  sensors::Millimetres thinnest;
  sensors::Millimetres thickest;
};
inline constexpr StemLimits kMeasuredStem{sensors::Millimetres::mm(0.5),
                                          sensors::Millimetres::mm(12.0)};
/// A file may come from anywhere: only a lost decimal point is caught.
inline constexpr StemLimits kListedStem{sensors::Millimetres::mm(0.001),
                                        sensors::Millimetres::mm(12.0)};

/// One diameter, with the seedling's number when the grower gave it ("5=2.3").
struct TypedStem {
  std::optional<int> seedling;
  sensors::Millimetres diameter;
};

/// Reads one diameter. Refuses with code "bad-diameter", `where` in the Problem.
sensors::Millimetres read_diameter(std::string_view text, Units units, StemLimits limits,
                                   const std::string& where);

/// Reads the words typed after `measure`. Refuses the whole line at the first bad word.
std::vector<TypedStem> read_typed_stems(std::span<const std::string> words, Units units);

/// Reads a file's text: blank lines and lines starting with # do not count. Refuses with file:line.
std::vector<sensors::Millimetres> read_stem_list(std::string_view text, const std::string& file);

}  // namespace takehold::client
