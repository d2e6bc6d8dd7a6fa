// A sheet as text: each noun's fields by their description, defaults left out. JSON's quoting of
// text is TOML's too, but for the one character U+007F, which names cannot hold.
#include <fmt/format.h>

#include "client/season/field_json.hpp"
#include "client/season/sheet.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

// Text by what the field is, for days stand bare in TOML and quoted in JSON.
template <class T>
std::string literal(const T& value) {
  if constexpr (std::is_same_v<T, Day>) {
    return sensors::to_string(value);
  } else if constexpr (std::is_same_v<T, Away>) {
    return "[" + sensors::to_string(value.from) + ", " + sensors::to_string(value.to) + "]";
  } else {
    return FieldJson<T>::write(value).dump();
  }
}

template <class T>
std::string literal(const std::optional<T>& value) {
  return literal(value.value());
}

template <class T>
std::string literal(const std::vector<T>& values) {
  std::string items;
  for (const T& value : values) items += (items.empty() ? "" : ", ") + literal(value);
  return "[" + items + "]";
}

// One section of one noun, against a noun fresh from its defaults.
template <class T>
std::string lines_of(const T& noun, std::string_view section) {
  const json defaults = to_json(T{});
  std::string lines;
  auto add = [&](const Field& f, const auto& member) {
    using Member = std::remove_cvref_t<decltype(member)>;
    if (!f.in_sheet || f.section != section) return;
    if (!f.required && FieldJson<Member>::write(member) == defaults.at(std::string(f.name))) return;
    lines += fmt::format("{} = {}\n", f.key_in_sheet(), literal(member));
  };
  visit_fields(add, noun);
  return lines;
}

std::string tests_of(const Sheet& sheet, const Lot& lot) {
  std::string items;
  for (const LotTest& test : sheet.lot_tests) {
    if (test.lot != lot.label) continue;
    items += fmt::format("{}{{ sprouted = {}, sown = {}, on = {} }}", items.empty() ? "" : ", ",
                         test.sprouted, test.sown, sensors::to_string(test.on));
  }
  return items.empty() ? "" : "tested = [" + items + "]\n";
}

template <class T>
std::string tables_of(std::string_view name, const std::vector<T>& nouns) {
  std::string text;
  for (const T& noun : nouns) text += fmt::format("\n[[{}]]\n{}", name, lines_of(noun, ""));
  return text;
}

}  // namespace

std::string write_sheet(const Sheet& sheet) {
  std::string text = lines_of(sheet.season, "");
  for (const char* section : {"nursery", "grafting", "chamber"})
    if (const auto lines = lines_of(sheet.season, section); !lines.empty())
      text += fmt::format("\n[{}]\n{}", section, lines);
  text += tables_of("bench", sheet.benches);
  text += tables_of("bed", sheet.beds);
  text += tables_of("variety", sheet.varieties);
  for (const Lot& lot : sheet.lots)
    text += "\n[[lot]]\n" + lines_of(lot, "") + tests_of(sheet, lot);
  text += tables_of("pairing", sheet.pairings);
  text += tables_of("own_root", sheet.own_roots);
  return text;
}

}  // namespace takehold::client
