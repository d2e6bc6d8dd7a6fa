#include "client/season/names.hpp"

#include <algorithm>
#include <vector>

#include "client/season/unicode.hpp"
#include "daemon/toml/nearest.hpp"

namespace takehold::client {
namespace {

using sensors::Problem;
using sensors::Result;

// Said in full, for a text could as well begin a Problem.
Result<std::string> good(std::string_view text) {
  return Result<std::string>(boost::system::in_place_value, text);
}

constexpr std::size_t kLongestName = 120;

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const auto first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

Problem bad_name(std::string_view name, std::string why, std::string hint = "") {
  return {"bad-name", "\"" + std::string(name) + "\" cannot be a name", std::move(why), "",
          std::move(hint)};
}

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
  return all;
}

}  // namespace

Result<std::string> checked_name(std::string_view name) {
  const std::string_view whole = trimmed(name);
  if (whole.empty()) return bad_name(whole, "it is empty");
  if (whole.size() > kLongestName) return bad_name(whole, "it is longer than 120 bytes");
  for (std::string_view rest = whole; !rest.empty();) {
    const auto c = take_character(rest);
    if (!c) return bad_name("?", "it is not UTF-8 text");
    if (*c == '/') return bad_name(whole, "\"/\" stands between scion and rootstock");
    if (is_control(*c)) return bad_name("?", "it has a control character in it");
    if (is_combining(*c))
      return bad_name(whole, "an accent stands loose behind its letter",
                      "type the letter with its accent as one character (NFC)");
  }
  return good(whole);
}

Result<std::string> checked_label(std::string_view label) {
  constexpr std::string_view kAllowed =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-";
  if (!label.empty() && label.size() <= 32 &&
      label.find_first_not_of(kAllowed) == std::string_view::npos)
    return good(label);
  return Problem{"bad-label", "\"" + std::string(label) + "\" cannot be a label",
                 "a label is 1 to 32 letters A-Z a-z, digits, dots, strokes _ and -", "", ""};
}

std::string folded(std::string_view name) {
  std::string small;
  while (!name.empty()) {
    if (const auto c = take_character(name)) {
      append_character(small, small_letter(*c));
    } else {
      small += name.front();
      name.remove_prefix(1);
    }
  }
  return small;
}

namespace {

std::string nearest_hint(const std::string& wanted, std::span<const std::string> names) {
  std::vector<std::string> small;
  for (const std::string& name : names) small.push_back(folded(name));
  const std::string nearest = daemon::nearest_name(wanted, small);
  const auto found = std::find(small.begin(), small.end(), nearest);
  if (nearest.empty() || found == small.end()) return "";
  return "did you mean " + names[static_cast<std::size_t>(found - small.begin())] + "?";
}

}  // namespace

Result<std::string> by_beginning(std::string_view typed, std::span<const std::string> names,
                                 std::string_view what) {
  const std::string wanted = folded(trimmed(typed));
  std::vector<std::string> whole;
  std::vector<std::string> begun;
  for (const std::string& name : names) {
    if (name == trimmed(typed)) return good(name);
    const std::string small = folded(name);
    if (small == wanted) whole.push_back(name);
    if (!wanted.empty() && small.starts_with(wanted)) begun.push_back(name);
  }
  const auto& found = whole.empty() ? begun : whole;
  if (found.size() == 1) return good(found.front());
  const std::string said = std::string(what) + " \"" + std::string(typed) + "\"";
  if (found.empty())
    return Problem{"not-there", "there is no " + said,
                   names.empty() ? "there is none at all yet"
                                 : "there are: " + joined({names.begin(), names.end()}),
                   "", nearest_hint(wanted, names)};
  return Problem{"ambiguous", said + " could be several", joined(found), "", "type more of it"};
}

std::optional<NamePair> split_pairing(std::string_view typed) {
  const auto at = typed.find('/');
  if (at == std::string_view::npos || typed.find('/', at + 1) != std::string_view::npos)
    return std::nullopt;
  NamePair pair{std::string(trimmed(typed.substr(0, at))),
                std::string(trimmed(typed.substr(at + 1)))};
  if (pair.scion.empty() || pair.rootstock.empty()) return std::nullopt;
  return pair;
}

}  // namespace takehold::client
