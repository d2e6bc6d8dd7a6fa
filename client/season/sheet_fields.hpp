// A noun's fields out of one table of the sheet. Only for the sources of this folder.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "client/season/field.hpp"
#include "client/season/season.hpp"
#include "client/season/words.hpp"
#include "daemon/toml/document.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::client {

using daemon::TomlTable;
using daemon::TomlValue;

/// One value as T; none if it is of another type, and the mistake is recorded.
template <class T>
struct FromToml;

template <>
struct FromToml<std::string> {
  static std::optional<std::string> read(const TomlValue& value) { return value.text(); }
};
template <>
struct FromToml<double> {
  static std::optional<double> read(const TomlValue& value) { return value.number(); }
};
template <>
struct FromToml<int> {
  static std::optional<int> read(const TomlValue& value) {
    const auto whole = value.whole();
    if (!whole) return std::nullopt;
    if (*whole >= -1'000'000 && *whole <= 1'000'000) return static_cast<int>(*whole);
    value.refuse({"out-of-range", "such a number is a slip of the hand", "", "", ""});
    return std::nullopt;
  }
};
template <>
struct FromToml<sensors::Day> {
  static std::optional<sensors::Day> read(const TomlValue& value) { return value.day(); }
};
template <>
struct FromToml<sensors::Celsius> {
  static std::optional<sensors::Celsius> read(const TomlValue& value) {
    const auto number = value.number();
    if (!number) return std::nullopt;
    return sensors::Celsius::degc(*number);
  }
};
template <class E>
requires std::is_enum_v<E>
struct FromToml<E> {
  static std::optional<E> read(const TomlValue& value) {
    const auto word = value.text();
    if (!word) return std::nullopt;
    const auto found = from_text<E>(*word);
    if (!found)
      value.refuse(
          {"unknown-value", "\"" + *word + "\" is none of the choices", choices<E>(), "", ""});
    return found;
  }
};
template <class T>
struct FromToml<std::vector<T>> {
  static std::optional<std::vector<T>> read(const TomlValue& value) {
    std::vector<T> items;
    for (const TomlValue& item : value.items())
      if (auto read = FromToml<T>::read(item)) items.push_back(std::move(*read));
    return items;
  }
};
template <>
struct FromToml<Away> {
  static std::optional<Away> read(const TomlValue& value) {
    const auto days = FromToml<std::vector<sensors::Day>>::read(value);
    if (days && days->size() == 2 && (*days)[0] <= (*days)[1]) return Away{(*days)[0], (*days)[1]};
    value.refuse({"bad-away", "two days are wanted, the first and the last", "", "",
                  "[2027-04-01, 2027-04-04]"});
    return std::nullopt;
  }
};

/// The visitor: reads each field that the sheet may have.
class SheetFields {
 public:
  /// `left_out`: a key that may be missing though its field is needed; or empty.
  explicit SheetFields(const TomlTable& table, std::string_view left_out = {})
      : table_(table), left_out_(left_out) {}

  template <class T>
  void operator()(const Field& f, T& member) {
    if (!f.in_sheet) return;
    const auto table = section(f.section);
    if (!table) return;
    const auto value = table->value(f.key_in_sheet());
    if (value) {
      read(*value, member);
    } else if (f.required && f.key_in_sheet() != left_out_) {
      table->need_text(f.key_in_sheet());  // records what is missing
    }
  }

 private:
  template <class T>
  static void read(const TomlValue& value, T& member) {
    if (auto got = FromToml<T>::read(value)) member = std::move(*got);
  }
  template <class T>
  static void read(const TomlValue& value, std::optional<T>& member) {
    member = FromToml<T>::read(value);
  }

  std::optional<TomlTable> section(std::string_view name) {
    if (name.empty()) return table_;
    const auto [at, fresh] = sections_.try_emplace(std::string(name));
    if (fresh) at->second = table_.table(name);
    return at->second;
  }

  TomlTable table_;
  std::string_view left_out_;
  std::map<std::string, std::optional<TomlTable>> sections_{};
};

template <class T>
T read_fields(const TomlTable& table, std::string_view left_out = {}) {
  T noun;
  SheetFields fields(table, left_out);
  visit_fields(fields, noun);
  return noun;
}

}  // namespace takehold::client
