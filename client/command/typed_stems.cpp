#include "client/command/typed_stems.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

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

bool take_suffix(std::string_view& text, std::string_view suffix) {
  if (!text.ends_with(suffix)) return false;
  text = trimmed(text.substr(0, text.size() - suffix.size()));
  return true;
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

std::optional<double> plain_number(std::string_view text) {
  std::string copy(text);
  if (std::count(copy.begin(), copy.end(), ',') == 1 && copy.find('.') == std::string::npos) {
    std::replace(copy.begin(), copy.end(), ',', '.');
  }
  double value = 0;
  const auto [end, error] = std::from_chars(copy.data(), copy.data() + copy.size(), value);
  if (error != std::errc() || end != copy.data() + copy.size()) return std::nullopt;
  if (!std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace

Millimetres read_diameter(std::string_view text, LengthUnit unit, StemLimits limits,
                          const std::string& where) {
  std::string_view digits = trimmed(text);
  if (take_suffix(digits, "mm")) {
    unit = LengthUnit::mm;
  } else if (take_suffix(digits, "in")) {
    unit = LengthUnit::inch;
  }
  const auto number = plain_number(digits);
  if (!number) {
    refuse(where, fmt::format("\"{}\" is not a diameter", trimmed(text)), "write it like 2.1");
  }
  const auto diameter =
      unit == LengthUnit::mm ? Millimetres::mm(*number) : Millimetres::inch(*number);
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

std::vector<TypedStem> read_typed_stems(std::span<const std::string> words, LengthUnit unit) {
  std::vector<TypedStem> stems;
  for (const auto& word : words) {
    const std::string where = fmt::format("argument \"{}\"", word);
    const auto equals = word.find('=');
    if (equals == std::string::npos) {
      stems.push_back({std::nullopt, read_diameter(word, unit, kMeasuredStem, where)});
      continue;
    }
    int seedling = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + equals, seedling);
    if (error != std::errc() || end != word.data() + equals || seedling < 1) {
      refuse(where, "before \"=\" stands the number of a seedling, from 1", "write it like 5=2.3");
    }
    const auto diameter =
        read_diameter(std::string_view(word).substr(equals + 1), unit, kMeasuredStem, where);
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
    stems.push_back(read_diameter(line, LengthUnit::mm, kListedStem, where));
  }
  return stems;
}

}  // namespace takehold::client
