#include "client/command/typed_stems.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace takehold::client {

using sensors::Millimetres;
using sensors::Problem;
using sensors::Refused;

namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

[[noreturn]] void refuse(const std::string& where, std::string title, std::string hint) {
  throw Refused(Problem{"bad-diameter", std::move(title), "", where, std::move(hint)});
}

/// The diameter that was meant when a decimal point got lost, or nothing sensible to say.
std::string lost_point_hint(double mm, StemLimits limits) {
  for (const double meant : {mm / 10.0, mm / 100.0}) {
    if (meant >= limits.thinnest.mm() && meant <= 5.0)
      return fmt::format("did you mean {:g}?", meant);
  }
  return fmt::format("stems are given in millimetres, {:g} to {:g}", limits.thinnest.mm(),
                     limits.thickest.mm());
}

}  // namespace

Millimetres read_diameter(std::string_view text, Units units, StemLimits limits,
                          const std::string& where) {
  const auto parsed = parse_length(text, units, where);
  if (!parsed) refuse(where, parsed.error().title, "write it like 2.1");
  const Millimetres diameter = *parsed;
  if (diameter.um() < limits.thinnest.um()) {
    refuse(where, fmt::format("{:g} mm is thinner than any seedling's stem", diameter.mm()),
           fmt::format("the least is {:g} mm", limits.thinnest.mm()));
  }
  if (diameter.um() > limits.thickest.um()) {
    refuse(where, fmt::format("{:g} mm is thicker than any seedling's stem", diameter.mm()),
           lost_point_hint(diameter.mm(), limits));
  }
  return diameter;
}

std::vector<TypedStem> read_typed_stems(std::span<const std::string> words, Units units) {
  std::vector<TypedStem> stems;
  for (const auto& word : words) {
    const std::string where = fmt::format("argument \"{}\"", word);
    const auto equals = word.find('=');
    if (equals == std::string::npos) {
      stems.push_back({std::nullopt, read_diameter(word, units, kMeasuredStem, where)});
      continue;
    }
    int seedling = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + equals, seedling);
    if (error != std::errc() || end != word.data() + equals || seedling < 1) {
      refuse(where, "before \"=\" stands the number of a seedling, from 1", "write it like 5=2.3");
    }
    const auto diameter =
        read_diameter(std::string_view(word).substr(equals + 1), units, kMeasuredStem, where);
    stems.push_back({seedling, diameter});
  }
  return stems;
}

std::vector<Millimetres> read_stem_list(std::string_view text, const std::string& file) {
  std::vector<Millimetres> stems;
  int line_number = 0;
  while (!text.empty()) {
    ++line_number;
    const auto end = text.find('\n');
    const auto line = trimmed(text.substr(0, end));
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    if (line.empty() || line.front() == '#') continue;
    const std::string where = fmt::format("{}:{}", file, line_number);
    stems.push_back(read_diameter(line, Units::metric, kListedStem, where));
  }
  return stems;
}

}  // namespace takehold::client
