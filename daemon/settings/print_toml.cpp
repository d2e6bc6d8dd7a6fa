#include "daemon/settings/print_toml.hpp"

#include <fmt/format.h>

#include <cmath>
#include <sstream>

namespace takehold::daemon {
namespace {

std::string key_text(const toml::key& key) {
  constexpr std::string_view kBare =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
  const std::string_view text = key.str();
  if (!text.empty() && text.find_first_not_of(kBare) == std::string_view::npos) {
    return std::string(text);
  }
  std::ostringstream quoted;
  quoted << toml::toml_formatter(toml::value<std::string>(std::string(text)));
  return quoted.str();
}

std::string number_text(double number) {
  if (!std::isfinite(number)) return std::isnan(number) ? "nan" : number > 0 ? "inf" : "-inf";
  std::string text = fmt::format("{}", number);  // the shortest that reads back the same
  if (text.find_first_of(".e") == std::string::npos) text += ".0";
  return text;
}

std::string inline_text(const toml::node& node) {
  std::string text;
  if (const auto* table = node.as_table()) {
    for (const auto& [key, value] : *table) {
      text += (text.empty() ? "" : ", ") + key_text(key) + " = " + inline_text(value);
    }
    return text.empty() ? "{}" : "{ " + text + " }";
  }
  if (const auto* list = node.as_array()) {
    for (const auto& value : *list) text += (text.empty() ? "" : ", ") + inline_text(value);
    return "[" + text + "]";
  }
  if (const auto* number = node.as_floating_point()) return number_text(number->get());
  std::ostringstream out;
  node.visit([&](const auto& value) { out << toml::toml_formatter(value); });
  return out.str();
}

bool is_list_of_tables(const toml::node& node) {
  const auto* list = node.as_array();
  return list != nullptr && !list->empty() && list->is_homogeneous<toml::table>();
}

std::string lines_of(const toml::table& table) {
  std::string text;
  for (const auto& [key, value] : table) text += key_text(key) + " = " + inline_text(value) + "\n";
  return text;
}

}  // namespace

std::string printed(const toml::table& root) {
  std::string text;
  for (const auto& [key, value] : root) {
    if (const auto* table = value.as_table()) {
      text += "[" + key_text(key) + "]\n" + lines_of(*table) + "\n";
    } else if (is_list_of_tables(value)) {
      for (const auto& one : *value.as_array()) {
        text += "[[" + key_text(key) + "]]\n" + lines_of(*one.as_table()) + "\n";
      }
    } else {
      text = key_text(key) + " = " + inline_text(value) + "\n" + text;  // before any section
    }
  }
  return text;
}

}  // namespace takehold::daemon
