// How a noun tells what it is made of, once, for every use: columns, JSON, sheet, differences, CSV.
//
// Each noun has   static constexpr Kind kKind;   std::string key() const;   and beside it
//   template <class V, Is<Lot> T> void visit_fields(V& v, T& t) { v(field("label"), t.label); ... }
// V is called with each Field and its member, in the order of the contract. Members are:
// std::string, bool, int, std::int64_t, double, Day, Instant, Celsius, Millimetres, an enum with
// EnumNames, std::optional of these, and std::vector of text, numbers or structs that have
// visit_fields.
#pragma once

#include <concepts>
#include <optional>
#include <string_view>
#include <type_traits>

#include "client/season/kind.hpp"

namespace takehold::client {

/// T is U or const U.
template <class T, class U>
concept Is = std::same_as<std::remove_const_t<T>, U>;

/// One member's name outside the program, and what it means there.
struct Field {
  std::string_view name;             ///< JSON key and column, with its unit: "price", "day_degc"
  std::string_view section = {};     ///< table of the sheet it stands in: "nursery"; or empty
  std::string_view sheet_name = {};  ///< its key in that table, when that is not `name`
  std::optional<Kind> refers = {};   ///< the member is the key of one of these (or several)
  bool refers_by_letter = false;     ///< the member is "S12" or "G7": see kind_of_key
  bool required = false;             ///< the sheet must say it
  bool in_sheet = true;              ///< false: the book's own business

  constexpr std::string_view key_in_sheet() const { return sheet_name.empty() ? name : sheet_name; }
  constexpr Field of(Kind kind) const {
    Field f = *this;
    f.refers = kind;
    return f;
  }
  constexpr Field of_letter() const {
    Field f = *this;
    f.refers_by_letter = true;
    return f;
  }
  constexpr Field needed() const {
    Field f = *this;
    f.required = true;
    return f;
  }
  constexpr Field own() const {
    Field f = *this;
    f.in_sheet = false;
    return f;
  }
  constexpr Field in(std::string_view s, std::string_view as = {}) const {
    Field f = *this;
    f.section = s;
    f.sheet_name = as;
    return f;
  }
};

constexpr Field field(std::string_view name) {
  return Field{name};
}

}  // namespace takehold::client
