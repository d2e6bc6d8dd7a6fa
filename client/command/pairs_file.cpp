#include "client/command/pairs_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>
#include <sstream>

#include "client/season/kind.hpp"
#include "client/season/stem_text.hpp"

namespace takehold::client {

namespace {

[[noreturn]] void refuse(const std::string& where, std::string title) {
  throw sensors::Refused({"bad-pairs", std::move(title), "", where,
                          "as R7-S3 R2-S9, or in full S12-5 S13-2, or S12-5 S13-2 2.10 2.05"});
}

bool are_digits(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// "R7" with this letter.
bool is_short(std::string_view word, char letter) {
  return !word.empty() && word.front() == letter && are_digits(word.substr(1));
}

/// "S12-5", or "G6-3".
bool is_numbered(std::string_view word, Kind kind) {
  const auto dash = word.find('-');
  return dash != std::string_view::npos && are_digits(word.substr(dash + 1)) &&
         kind_of_key(std::string(word.substr(0, dash))) == kind;
}

std::string in_capitals(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

std::vector<std::string> words_of(std::string line) {
  // A decimal comma would part a number in two, so that here only points are understood.
  std::replace_if(
      line.begin(), line.end(), [](char c) { return c == ',' || c == ';' || c == '\t'; }, ' ');
  std::istringstream stream(line);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

/// Reads pair after pair from the words of one line.
class PairWords {
 public:
  PairWords(std::vector<std::string> words, const std::string& where)
      : words_(std::move(words)), where_(where) {}

  std::vector<SeedlingPair> all() {
    std::vector<SeedlingPair> pairs;
    while (at_ < words_.size()) pairs.push_back(next());
    return pairs;
  }

 private:
  SeedlingPair next() {
    const std::string word = in_capitals(words_[at_++]);
    const auto dash = word.find_first_of("-/+");
    if (dash != std::string::npos && is_short(word.substr(0, dash), 'R') &&
        is_short(word.substr(dash + 1), 'S')) {
      return {word.substr(0, dash), word.substr(dash + 1)};
    }
    const bool below =
        is_short(word, 'R') || is_numbered(word, Kind::sowing) || is_numbered(word, Kind::batch);
    if (!below) refuse(where_, fmt::format("\"{}\" is no seedling", word));
    if (at_ == words_.size()) refuse(where_, fmt::format("{} goes under which scion?", word));
    SeedlingPair pair{word, in_capitals(words_[at_++])};
    if (!is_short(pair.scion, 'S') && !is_numbered(pair.scion, Kind::sowing)) {
      refuse(where_, fmt::format("\"{}\" is no seedling", pair.scion));
    }
    if (at_ < words_.size() && std::isdigit(static_cast<unsigned char>(words_[at_].front()))) {
      pair.rootstock_diameter = diameter();
      pair.scion_diameter = diameter();
    }
    return pair;
  }

  Millimetres diameter() {
    if (at_ == words_.size()) refuse(where_, "one diameter where two belong");
    const auto stem = parse_stem(words_[at_++]);
    if (!stem) refuse(where_, stem.error().title);
    return *stem;
  }

  std::vector<std::string> words_;
  const std::string& where_;
  std::size_t at_ = 0;
};

SeedlingPair matched_pair(const nlohmann::json& row, const std::string& file) {
  const auto seedling = [&](const char* key) {
    std::string name = row.at(key);
    if (!is_numbered(name, Kind::sowing)) {
      refuse(file, fmt::format("\"{}\" is no seedling", name));
    }
    return name;
  };
  return {seedling("rootstock_seedling"), seedling("scion_seedling"),
          Millimetres::mm(row.at("rootstock_mm")), Millimetres::mm(row.at("scion_mm"))};
}

std::vector<SeedlingPair> read_match(std::string_view text, const std::string& file,
                                     const std::string& pairing) {
  std::vector<SeedlingPair> pairs;
  try {
    const auto document = nlohmann::json::parse(text);
    for (const auto& row : document.at("pairs")) {
      if (row.value("pairing", pairing) != pairing) continue;
      pairs.push_back(matched_pair(row, file));
    }
  } catch (const nlohmann::json::exception& wrong) {
    refuse(file, fmt::format("this is not what match P --json prints: {}", wrong.what()));
  }
  return pairs;
}

}  // namespace

bool is_short_seedling(std::string_view name) {
  return is_short(name, 'R') || is_short(name, 'S');
}

std::vector<SeedlingPair> parse_pairs(std::string text, const std::string& where) {
  return PairWords(words_of(std::move(text)), where).all();
}

std::vector<SeedlingPair> read_pairs(std::string_view text, const std::string& file,
                                     const std::string& pairing) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first != std::string_view::npos && text[first] == '{') return read_match(text, file, pairing);
  std::vector<SeedlingPair> pairs;
  std::istringstream stream{std::string(text)};
  int number = 0;
  for (std::string line; std::getline(stream, line);) {
    ++number;
    if (line.ends_with('\r')) line.pop_back();
    const auto start = line.find_first_not_of(" \t");
    if (start == std::string::npos || line[start] == '#') continue;
    const auto more = parse_pairs(line, fmt::format("{}:{}", file, number));
    pairs.insert(pairs.end(), more.begin(), more.end());
  }
  return pairs;
}

}  // namespace takehold::client
