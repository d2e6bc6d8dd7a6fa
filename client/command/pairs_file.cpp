#include "client/command/pairs_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "client/season/kind.hpp"
#include "client/season/stem_text.hpp"

namespace takehold::client {

namespace {

[[noreturn]] void refuse(const std::string& where, std::string title) {
  throw sensors::Refused({"bad-pairs", std::move(title), "", where,
                          "a line reads: S12-5 S13-2, or S12-5 S13-2 2.10 2.05"});
}

/// "S12-5", in capitals.
std::string seedling(std::string word, const std::string& where) {
  if (word.starts_with('s')) word.front() = 'S';
  const auto dash = word.find('-');
  const auto digits = dash == std::string::npos ? std::string() : word.substr(dash + 1);
  const bool numbered = !digits.empty() && std::all_of(digits.begin(), digits.end(),
                                                       [](char c) { return c >= '0' && c <= '9'; });
  if (!numbered || kind_of_key(word.substr(0, dash)) != Kind::sowing) {
    refuse(where, fmt::format("\"{}\" is no seedling", word));
  }
  return word;
}

Millimetres diameter(const std::string& word, const std::string& where) {
  const auto stem = parse_stem(word);
  if (!stem) refuse(where, stem.error().title);
  return *stem;
}

SeedlingPair read_line(std::string line, const std::string& where) {
  // A decimal comma would part a number in two, so that here only points are understood.
  std::replace_if(
      line.begin(), line.end(), [](char c) { return c == ',' || c == ';' || c == '\t'; }, ' ');
  std::istringstream stream(line);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  if (words.size() != 2 && words.size() != 4) {
    refuse(where, fmt::format("{} words where 2 or 4 belong", words.size()));
  }
  SeedlingPair pair{seedling(words[0], where), seedling(words[1], where)};
  if (words.size() == 4) {
    pair.rootstock_diameter = diameter(words[2], where);
    pair.scion_diameter = diameter(words[3], where);
  }
  return pair;
}

std::vector<SeedlingPair> read_match(std::string_view text, const std::string& file) {
  std::vector<SeedlingPair> pairs;
  try {
    const auto document = nlohmann::json::parse(text);
    for (const auto& row : document.at("pairs")) {
      pairs.push_back(
          {seedling(row.at("rootstock_seedling"), file), seedling(row.at("scion_seedling"), file),
           Millimetres::mm(row.at("rootstock_mm")), Millimetres::mm(row.at("scion_mm"))});
    }
  } catch (const nlohmann::json::exception& wrong) {
    refuse(file, fmt::format("this is not what match P --json prints: {}", wrong.what()));
  }
  return pairs;
}

}  // namespace

std::vector<SeedlingPair> read_pairs(std::string_view text, const std::string& file) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first != std::string_view::npos && text[first] == '{') return read_match(text, file);
  std::vector<SeedlingPair> pairs;
  std::istringstream stream{std::string(text)};
  int number = 0;
  for (std::string line; std::getline(stream, line);) {
    ++number;
    if (line.ends_with('\r')) line.pop_back();
    const auto start = line.find_first_not_of(" \t");
    if (start == std::string::npos || line[start] == '#') continue;
    pairs.push_back(read_line(line, fmt::format("{}:{}", file, number)));
  }
  return pairs;
}

}  // namespace takehold::client
