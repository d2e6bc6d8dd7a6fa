#include "daemon/toml/document.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include "daemon/toml/nearest.hpp"
#include "daemon/toml/state.hpp"

namespace takehold::daemon {
namespace {

using sensors::Problem;
using sensors::Result;

constexpr std::uintmax_t kLargestFile = 4u << 20;

Problem unknown_key(const TomlState& state, const toml::key& key,
                    const std::set<std::string, std::less<>>& asked) {
  const auto nearest =
      nearest_name(key.str(), std::vector<std::string>(asked.begin(), asked.end()));
  return {"unknown-key", "unknown key `" + std::string(key.str()) + "`", "",
          state.where(key.source().begin.line),
          nearest.empty() ? "" : "did you mean `" + nearest + "`?"};
}

/// How many bytes the character at the front of `text` takes, 0 if it is no UTF-8.
std::size_t character_length(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  if (lead < 0x80) return 1;
  const std::size_t length = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (lead < 0xc2 || lead > 0xf4 || text.size() < length) return 0;
  for (const char c : text.substr(1, length - 1)) {
    if ((static_cast<unsigned char>(c) & 0xc0) != 0x80) return 0;
  }
  return length;
}

/// The line of the first byte that is no UTF-8, or 0. The parser finds it too, but not its line.
unsigned line_of_bad_text(std::string_view text) {
  unsigned line = 1;
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    if (length == 0) return line;
    if (text.front() == '\n') ++line;
    text.remove_prefix(length);
  }
  return 0;
}

void add_unknown_keys(const TomlState& state, std::vector<TomlState::Mistake>& mistakes) {
  for (const auto& [table, asked] : state.asked) {
    for (const auto& [key, node] : *table) {
      if (asked.contains(key.str())) continue;
      mistakes.push_back({key.source().begin.line, unknown_key(state, key, asked)});
    }
  }
}

}  // namespace

TomlTable TomlDocument::root() const {
  return TomlTable(state_, &state_->root);
}

const std::string& TomlDocument::file() const {
  return state_->file;
}

std::vector<Problem> TomlDocument::mistakes() const {
  auto all = state_->mistakes;
  add_unknown_keys(*state_, all);
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.line < b.line; });
  std::vector<Problem> problems;
  for (auto& mistake : all) problems.push_back(std::move(mistake.problem));
  return problems;
}

void TomlDocument::refuse_mistakes() const {
  const auto all = mistakes();
  if (!all.empty()) throw sensors::Refused(joined(all));
}

Problem joined(const std::vector<Problem>& mistakes) {
  if (mistakes.size() == 1) return mistakes.front();
  Problem whole{mistakes.front().code, std::to_string(mistakes.size()) + " mistakes", "",
                mistakes.front().where, ""};
  for (const auto& mistake : mistakes) whole.detail += "\n  " + mistake.sentence();
  return whole;
}

Result<TomlDocument> parse_toml(std::string_view text, std::string file) {
  auto state = std::make_shared<TomlState>();
  state->file = std::move(file);
  if (const unsigned line = line_of_bad_text(text)) {
    return Problem{"bad-toml", "this line is not UTF-8 text", "", state->where(line),
                   "save the file as UTF-8"};
  }
  try {
    state->root = toml::parse(text, state->file);
  } catch (const toml::parse_error& error) {
    return Problem{"bad-toml", "this line cannot be read", std::string(error.description()),
                   state->where(error.source().begin.line), ""};
  }
  return TomlDocument(std::move(state));
}

Result<TomlDocument> load_toml(const std::filesystem::path& path) {
  std::error_code why;
  const auto size = std::filesystem::file_size(path, why);
  std::ifstream file(path, std::ios::binary);
  if (why || !file) {
    return Problem{"no-file", "this file cannot be read", why ? why.message() : "", path.string(),
                   ""};
  }
  if (size > kLargestFile) {
    return Problem{"too-large", "this file is larger than 4 MiB", "", path.string(), ""};
  }
  std::ostringstream text;
  text << file.rdbuf();
  return parse_toml(text.str(), path.string());
}

}  // namespace takehold::daemon
