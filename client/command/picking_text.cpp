#include "client/command/picking_text.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <sstream>

#include "client/command/context.hpp"

namespace takehold::client {
namespace {

constexpr const char* kShape = "as: G3 12.4, or plant by plant: G3 3=1.25 5=0.9/12";

[[noreturn]] void refuse(std::string title, const std::string& where) {
  throw sensors::Refused({"bad-picking", std::move(title), "", where, kShape});
}

bool begins_with_digit(const std::string& word) {
  return !word.empty() && (std::isdigit(static_cast<unsigned char>(word[0])) != 0 ||
                           word[0] == '-' || word[0] == '.');
}

bool is_unit(const std::string& word) {
  return std::none_of(word.begin(), word.end(),
                      [](unsigned char c) { return std::isdigit(c) != 0; });
}

int whole(std::string_view text, const std::string& word, const std::string& where) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size() || number < 1) {
    refuse("\"" + word + "\" is no weight of a picking", where);
  }
  return number;
}

/// "3=1.25/14"
Picking picking_of(const std::string& word, Units units, const std::string& where) {
  Picking picking;
  picking.where = where;
  std::string_view rest = word;
  if (const auto sign = rest.find('='); sign != std::string_view::npos) {
    picking.plant = whole(rest.substr(0, sign), word, where);
    rest.remove_prefix(sign + 1);
  }
  if (const auto sign = rest.find('/'); sign != std::string_view::npos) {
    picking.fruits = whole(rest.substr(sign + 1), word, where);
    rest = rest.substr(0, sign);
  }
  const auto weight = parse_mass(rest, units, where);
  if (!weight) throw sensors::Refused(weight.error());
  picking.weight = *weight;
  return picking;
}

std::string joined(const std::string& text, const std::string& word) {
  return text.empty() ? word : text + " " + word;
}

}  // namespace

std::vector<Picking> pickings_of(const std::string& from, const std::vector<std::string>& weights,
                                 Units units, const std::string& where) {
  std::vector<std::string> whole_words;
  for (const std::string& word : weights) {
    if (is_unit(word) && !whole_words.empty()) {
      whole_words.back() += word;  // "850 g"
    } else {
      whole_words.push_back(word);
    }
  }
  if (whole_words.empty()) refuse("no weight was given", where);
  std::vector<Picking> pickings;
  for (const std::string& word : whole_words) {
    pickings.push_back(picking_of(word, units, where));
    pickings.back().from = from;
  }
  return pickings;
}

std::vector<Picking> pickings_of_line(std::string_view line, Units units,
                                      const std::string& where) {
  std::istringstream words{std::string(line)};
  std::string word, from;
  std::optional<sensors::Day> on;
  std::vector<std::string> weights;
  while (words >> word) {
    if (from.empty() && weights.empty() && !on && word.size() == 10) {
      if (const auto day = sensors::parse_day(word)) {
        on = *day;
        continue;
      }
    }
    if (from.empty() && word.front() == '"') {
      std::string more;
      if (word.size() < 2 || word.back() != '"') {
        if (!std::getline(words, more, '"')) refuse("a quotation mark is not closed", where);
        from = word.substr(1) + more;
      } else {
        from = word.substr(1, word.size() - 2);
      }
    } else if (weights.empty() && !begins_with_digit(word)) {
      from = joined(from, word);
    } else {
      weights.push_back(word);
    }
  }
  auto pickings = pickings_of(from, weights, units, where);
  for (Picking& picking : pickings) picking.on = on;
  return pickings;
}

std::vector<Picking> pickings_of_text(std::string_view text, Units units, const std::string& name) {
  std::istringstream lines{std::string(text)};
  std::vector<Picking> all;
  std::string line;
  for (int number = 1; std::getline(lines, line); ++number) {
    const auto first = line.find_first_not_of(" \t\r");
    if (first == std::string::npos || line[first] == '#') continue;
    for (Picking& picking : pickings_of_line(line, units, name + ":" + std::to_string(number))) {
      if (picking.from.empty()) {
        refuse("it is not said what was picked from", picking.where);
      }
      all.push_back(std::move(picking));
    }
  }
  if (all.empty()) refuse("no picking stands here", name);
  return all;
}

}  // namespace takehold::client
