#include "client/season/stem_text.hpp"

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <set>
#include <string>

namespace takehold::client {
namespace {

using sensors::Problem;
using sensors::Result;

// A calliper read without its point: 23 for 2.3, 215 for 2.15.
std::string guess(Millimetres diameter) {
  for (const double factor : {10.0, 100.0}) {
    const Millimetres less = diameter / factor;
    if (less < kThinnestStem || less > kThickestStem) continue;
    char text[32];
    std::snprintf(text, sizeof text, "%g?", less.mm());
    return text;
  }
  return "";
}

Problem unreadable(std::string_view text) {
  return {"bad-diameter", "\"" + std::string(text) + "\" is not a diameter", "", "",
          "like 2.0, 2,0, 2.0mm or 0.08in"};
}

// Some callipers type a sign: "+2.04".
std::optional<double> number(std::string text) {
  if (text.starts_with('+')) text.erase(0, 1);
  for (char& c : text)
    if (c == ',') c = '.';
  double value = 0;
  const auto end =
      std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (end.ec != std::errc() || end.ptr != text.data() + text.size()) return std::nullopt;
  return value;
}

std::vector<std::string_view> words(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n;";
  std::vector<std::string_view> found;
  while (true) {
    const auto first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return found;
    text.remove_prefix(first);
    const auto end = std::min(text.find_first_of(kBlank), text.size());
    found.push_back(text.substr(0, end));
    text.remove_prefix(end);
  }
}

// "5=2.3" -> 5 and "2.3"; without a sign the next number.
std::optional<std::pair<int, std::string_view>> numbered(std::string_view word, int next) {
  const auto sign = word.find('=');
  if (sign == std::string_view::npos) return std::pair{next, word};
  int plant = 0;
  const auto end = std::from_chars(word.data(), word.data() + sign, plant);
  if (end.ec != std::errc() || end.ptr != word.data() + sign || plant < 1) return std::nullopt;
  return std::pair{plant, word.substr(sign + 1)};
}

}  // namespace

Result<Millimetres> checked_stem(Millimetres diameter) {
  if (diameter >= kThinnestStem && diameter <= kThickestStem) return diameter;
  char text[64];
  std::snprintf(text, sizeof text, "%g mm is no stem of a seedling", diameter.mm());
  return Problem{"bad-diameter", text, "stems are 0.3 to 15 mm thick", "", guess(diameter)};
}

Result<Millimetres> parse_stem(std::string_view text, Units units) {
  std::string_view bare = text;
  Units unit = units;
  if (bare.ends_with("mm") || bare.ends_with("in")) {
    unit = bare.ends_with("mm") ? Units::metric : Units::us;
    bare.remove_suffix(2);
  }
  const auto value = number(std::string(bare));
  if (!value) return unreadable(text);
  return checked_stem(unit == Units::metric ? Millimetres::mm(*value) : Millimetres::inch(*value));
}

Result<std::vector<Stem>> parse_stems(std::string_view text, Units units) {
  std::vector<Stem> stems;
  std::set<int> seen;
  int next = 1;
  for (const std::string_view word : words(text)) {
    const auto reading = numbered(word, next);
    if (!reading) return unreadable(word);
    const auto diameter = parse_stem(reading->second, units);
    if (!diameter) {
      Problem problem = diameter.error();
      problem.where = "plant " + std::to_string(reading->first);
      return problem;
    }
    if (!seen.insert(reading->first).second)
      return Problem{"twice", "plant " + std::to_string(reading->first) + " is measured twice", "",
                     std::string(word), ""};
    stems.push_back({reading->first, *diameter});
    next = reading->first + 1;
  }
  return stems;
}

}  // namespace takehold::client
