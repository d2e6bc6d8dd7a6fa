#include "client/match/resistances.hpp"

#include <algorithm>
#include <cctype>

namespace takehold::client {
namespace {

constexpr int kMostRaces = 20;

std::string trimmed(std::string_view text) {
  const auto blank = [](char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return std::string(text);
}

std::vector<std::string> pieces(std::string_view text, char separator) {
  std::vector<std::string> list;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(separator), text.size());
    list.push_back(trimmed(text.substr(0, end)));
    text.remove_prefix(std::min(text.size(), end + 1));
  }
  return list;
}

bool is_number(std::string_view text) {
  return !text.empty() && text.size() < 4 && std::all_of(text.begin(), text.end(), [](char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
  });
}

// "0-2" is 0, 1 and 2; anything else is itself.
std::vector<std::string> races_of(const std::string& text) {
  const std::size_t dash = text.find('-');
  if (dash == std::string::npos) return {text};
  const std::string first = text.substr(0, dash), last = text.substr(dash + 1);
  if (!is_number(first) || !is_number(last)) return {text};
  std::vector<std::string> races;
  for (int race = std::stoi(first);
       race <= std::min(std::stoi(last), std::stoi(first) + kMostRaces); ++race) {
    races.push_back(std::to_string(race));
  }
  return races;
}

void add_codes(std::string_view text, std::set<std::string>& into) {
  std::string code;
  for (const std::string& piece : pieces(text, ',')) {
    if (piece.empty()) continue;
    const std::size_t colon = piece.find(':');
    const bool more_races = colon == std::string::npos && !code.empty() &&
                            std::isdigit(static_cast<unsigned char>(piece.front())) != 0;
    if (!more_races) code = trimmed(std::string_view(piece).substr(0, colon));
    if (colon == std::string::npos && !more_races) {
      into.insert(code);
      continue;
    }
    const std::string races =
        more_races ? piece : trimmed(std::string_view(piece).substr(colon + 1));
    for (const std::string& race : races_of(races)) into.insert(code + ":" + race);
  }
}

bool holds(const std::set<std::string>& codes, std::string_view trouble) {
  const std::string wanted = trimmed(trouble);
  if (wanted.find(':') != std::string::npos) {
    // A packet that names no races is taken at its word for all of them.
    return codes.contains(wanted) || codes.contains(wanted.substr(0, wanted.find(':')));
  }
  return std::any_of(codes.begin(), codes.end(), [&](const std::string& code) {
    return code.substr(0, code.find(':')) == wanted;
  });
}

}  // namespace

std::optional<Resistance> Resistances::against(std::string_view trouble) const {
  if (holds(high, trouble)) return Resistance::high;
  if (holds(intermediate, trouble)) return Resistance::intermediate;
  return std::nullopt;
}

std::vector<std::string> Resistances::races_of(std::string_view trouble) const {
  const std::string wanted = trimmed(trouble);
  std::vector<std::string> races;
  if (high.contains(wanted) || intermediate.contains(wanted)) return races;
  for (const auto* codes : {&high, &intermediate}) {
    for (const std::string& code : *codes) {
      if (code.starts_with(wanted + ":")) races.push_back(code);
    }
  }
  return races;
}

std::optional<Resistances> read_resistances(std::string_view text) {
  if (trimmed(text).empty()) return std::nullopt;
  Resistances found;
  for (const std::string& part : pieces(text, ';')) {
    const bool high = part.starts_with("HR:"), low = part.starts_with("IR:");
    const std::string_view codes = std::string_view(part).substr(high || low ? 3 : 0);
    add_codes(codes, high ? found.high : found.intermediate);
  }
  return found;
}

}  // namespace takehold::client
