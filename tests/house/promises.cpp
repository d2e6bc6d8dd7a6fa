#include "tests/house/promises.hpp"

#include "tests/house/source_tree.hpp"

namespace takehold::house {
namespace {

std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  bool in_quotes = false;
  for (const char c : line + " ") {
    if (c == '#' && word.empty() && !in_quotes) break;
    if (c == '"') {
      in_quotes = !in_quotes;
    } else if (c == ' ' && !in_quotes) {
      if (!word.empty()) words.push_back(word);
      word.clear();
    } else {
      word += c;
    }
  }
  return words;
}

}  // namespace

std::vector<TypedLine> typed_lines(const std::filesystem::path& root, const std::string& page,
                                   const std::string& program) {
  std::vector<TypedLine> found;
  int number = 0;
  for (const auto& line : lines_of(root / page)) {
    ++number;
    if (!line.starts_with("    ")) continue;
    auto words = words_of(line);
    if (words.empty() || words.front() != program) continue;
    found.push_back({page + ":" + std::to_string(number), std::move(words)});
  }
  return found;
}

}  // namespace takehold::house
