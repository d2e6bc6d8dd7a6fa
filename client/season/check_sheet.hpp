// What is wrong with a sheet beyond its types. Only for the sources of this folder.
#pragma once

#include <map>
#include <string>
#include <utility>

#include "client/season/ranges.hpp"
#include "client/season/sheet.hpp"
#include "client/season/sheet_fields.hpp"

namespace takehold::client {

/// Takes each noun as it is read, with the table it was read from; records mistakes there.
class SheetCheck {
 public:
  using Places = std::map<std::pair<Kind, std::string>, std::string>;

  /// Fills `where`: where each noun stands.
  explicit SheetCheck(Places& where) : where_(where) {}

  void season(const Season& season, const TomlTable& root);
  template <class T>
  void noun(T& noun, const TomlTable& table) {
    const bool spelt = spelling(noun, table);
    ranges(noun, [&](bool holds, std::string_view column, const char* rule) {
      const bool is_spelling = column == "name" || column == "label";
      if (!holds && (spelt || !is_spelling)) refuse_range(table, column, rule);
    });
    stands_once(T::kKind, identity(noun), table);
    tables_.insert_or_assign({T::kKind, identity(noun)}, table);
  }
  /// After all were read: names of varieties and lots that are not there, roles that do not fit.
  void references(const Sheet& sheet);

 private:
  /// Names and labels, trimmed; false where one was refused.
  bool spelling(Bench& bench, const TomlTable& table);
  bool spelling(Bed& bed, const TomlTable& table);
  bool spelling(Variety& variety, const TomlTable& table);
  bool spelling(Lot& lot, const TomlTable& table);
  template <class T>
  bool spelling(T& /*has neither*/, const TomlTable& /*table*/) {
    return true;
  }
  void refuse_range(const TomlTable& table, std::string_view column, const char* rule);
  void stands_once(Kind kind, const std::string& name, const TomlTable& table);
  void variety_named(const Sheet& sheet, const std::string& name, Role unfit,
                     const TomlTable& table, std::string_view key);
  void lot_named(const Sheet& sheet, const std::optional<std::string>& label,
                 const std::string& variety, const TomlTable& table, std::string_view key);

  Places& where_;
  std::map<std::pair<Kind, std::string>, TomlTable> tables_{};
  std::map<std::pair<Kind, std::string>, std::string> folded_{};
};

}  // namespace takehold::client
