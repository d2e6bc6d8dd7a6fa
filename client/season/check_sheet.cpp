#include "client/season/check_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/season/names.hpp"
#include "daemon/toml/nearest.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {
namespace {

using sensors::Problem;

void refuse_unless(bool sound, const TomlTable& table, std::string_view key, std::string why) {
  if (sound || !table.has(key)) return;
  table.refuse(key, {"out-of-range", std::string(key) + " " + std::move(why), "", "", ""});
}

// Whether it is well spelt. A key that is missing is a mistake already recorded.
template <class Check>
bool checked(const TomlTable& table, std::string_view key, std::string& text, Check check) {
  if (!table.has(key)) return false;
  auto result = check(text);
  if (result) {
    text = *result;
  } else {
    table.refuse(key, result.error());
  }
  return result.has_value();
}

template <class T>
const T* named(const std::vector<T>& nouns, const std::string& name) {
  const auto found =
      std::find_if(nouns.begin(), nouns.end(), [&](const T& noun) { return noun.key() == name; });
  return found == nouns.end() ? nullptr : &*found;
}

template <class T>
Problem not_there(const std::vector<T>& nouns, std::string_view what, const std::string& name) {
  std::vector<std::string> names;
  for (const T& noun : nouns) names.push_back(noun.key());
  const std::string near = daemon::nearest_name(name, names);
  return {"not-there", fmt::format("there is no {} \"{}\" in this sheet", what, name), "", "",
          near.empty() ? "" : fmt::format("did you mean \"{}\"?", near)};
}

/// The table of the sheet that holds this column, and its key there.
void refuse_in_season(const TomlTable& root, std::string_view column, const char* rule) {
  const std::string_view key = column == "chamber_places" ? "places" : column;
  if (root.has(key)) return refuse_unless(false, root, key, rule);
  for (const char* section : {"nursery", "grafting", "chamber"}) {
    if (const auto table = root.table(section)) refuse_unless(false, *table, key, rule);
  }
}

}  // namespace

void SheetCheck::season(const Season& season, const TomlTable& root) {
  ranges(season, [&](bool holds, std::string_view column, const char* rule) {
    if (!holds) refuse_in_season(root, column, rule);
  });
  if (season.time_zone) {
    const auto zone = sensors::TimeZone::named(*season.time_zone);
    if (!zone) root.refuse("time_zone", zone.error());
  }
}

bool SheetCheck::spelling(Bench& bench, const TomlTable& table) {
  return checked(table, "name", bench.name, checked_name);
}

bool SheetCheck::spelling(Bed& bed, const TomlTable& table) {
  return checked(table, "name", bed.name, checked_name);
}

bool SheetCheck::spelling(Variety& variety, const TomlTable& table) {
  return checked(table, "name", variety.name, checked_name);
}

bool SheetCheck::spelling(Lot& lot, const TomlTable& table) {
  return checked(table, "label", lot.label, checked_label);
}

void SheetCheck::refuse_range(const TomlTable& table, std::string_view column, const char* rule) {
  refuse_unless(false, table, column, rule);
}

void SheetCheck::stands_once(Kind kind, const std::string& name, const TomlTable& table) {
  if (name.empty() || name == "/") return;
  const auto [at, fresh] = folded_.try_emplace({kind, folded(name)}, table.where());
  if (fresh) {
    where_[{kind, name}] = table.where();
    return;
  }
  table.refuse({"twice", fmt::format("{} \"{}\" stands twice", kind_name(kind), name),
                "the first is " + at->second, "", ""});
}

void SheetCheck::variety_named(const Sheet& sheet, const std::string& name, Role unfit,
                               const TomlTable& table, std::string_view key) {
  if (!table.has(key)) return;
  const Variety* variety = named(sheet.varieties, name);
  if (variety == nullptr) {
    table.refuse(key, not_there(sheet.varieties, "variety", name));
  } else if (variety->role == unfit && unfit != Role::both) {
    table.refuse(key, {"wrong-role", fmt::format("\"{}\" is a {} only", name, to_text(unfit)), "",
                       "", "role = \"both\" allows it"});
  }
}

void SheetCheck::lot_named(const Sheet& sheet, const std::optional<std::string>& label,
                           const std::string& variety, const TomlTable& table,
                           std::string_view key) {
  if (!label) return;
  const Lot* lot = named(sheet.lots, *label);
  if (lot == nullptr) {
    table.refuse(key, not_there(sheet.lots, "lot", *label));
  } else if (lot->variety != variety) {
    table.refuse(
        key, {"wrong-lot",
              fmt::format("lot {} is of \"{}\", not of \"{}\"", *label, lot->variety, variety), "",
              "", ""});
  }
}

void SheetCheck::references(const Sheet& sheet) {
  const auto table_of = [&](const auto& noun) {
    return tables_.at({std::remove_cvref_t<decltype(noun)>::kKind, identity(noun)});
  };
  for (const Lot& lot : sheet.lots)
    variety_named(sheet, lot.variety, Role::both, table_of(lot), "variety");
  for (const Pairing& pairing : sheet.pairings) {
    const TomlTable table = table_of(pairing);
    variety_named(sheet, pairing.scion, Role::rootstock, table, "scion");
    variety_named(sheet, pairing.rootstock, Role::scion, table, "rootstock");
    lot_named(sheet, pairing.scion_lot, pairing.scion, table, "scion_lot");
    lot_named(sheet, pairing.rootstock_lot, pairing.rootstock, table, "rootstock_lot");
  }
  for (const OwnRoot& own_root : sheet.own_roots)
    variety_named(sheet, own_root.variety, Role::both, table_of(own_root), "variety");
}

}  // namespace takehold::client
