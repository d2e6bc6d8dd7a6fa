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

// A key that is missing is a mistake already recorded.
template <class Check>
void checked(const TomlTable& table, std::string_view key, std::string& text, Check check) {
  if (!table.has(key)) return;
  auto result = check(text);
  if (result) {
    text = *result;
  } else {
    table.refuse(key, result.error());
  }
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

constexpr Celsius kColdest = Celsius::degc(0);
constexpr Celsius kHottest = Celsius::degc(50);

bool plausible(Celsius t) {
  return t >= kColdest && t <= kHottest;
}

}  // namespace

void SheetCheck::season(const Season& season, const TomlTable& root) {
  refuse_unless(season.confidence > 0 && season.confidence < 1, root, "confidence",
                "lies between 0 and 1, as 0.90");
  if (season.time_zone) {
    const auto zone = sensors::TimeZone::named(*season.time_zone);
    if (!zone) root.refuse("time_zone", zone.error());
  }
  if (const auto nursery = root.table("nursery")) {
    refuse_unless(season.cells_per_tray >= 1, *nursery, "cells_per_tray", "is 1 or more");
    refuse_unless(season.seeds_per_cell >= 1, *nursery, "seeds_per_cell", "is 1 or more");
    refuse_unless(season.cell_price.value_or(0) >= 0, *nursery, "cell_price", "is 0 or more");
    refuse_unless(season.graft_price.value_or(0) >= 0, *nursery, "graft_price", "is 0 or more");
  }
  if (const auto grafting = root.table("grafting")) {
    refuse_unless(season.tolerance_pct > 0 && season.tolerance_pct <= 100, *grafting,
                  "tolerance_pct", "is above 0 and at most 100");
    refuse_unless(season.window_days >= 0 && season.window_days <= 14, *grafting, "window_days",
                  "is 0 to 14");
    refuse_unless(season.grafts_per_day.value_or(1) >= 1, *grafting, "grafts_per_day",
                  "is 1 or more");
  }
  if (const auto chamber = root.table("chamber"))
    refuse_unless(season.places.value_or(1) >= 1, *chamber, "places", "is 1 or more");
}

void SheetCheck::bounds(Bench& bench, const TomlTable& table) {
  checked(table, "name", bench.name, checked_name);
  if (bench.name == "chamber")
    table.refuse("name", {"bad-name", "\"chamber\" is the healing chamber's name", "", "", ""});
  refuse_unless(plausible(bench.day), table, "day_degc", "is 0 to 50");
  refuse_unless(plausible(bench.night), table, "night_degc", "is 0 to 50");
  refuse_unless(bench.day_hours >= 0 && bench.day_hours <= 24, table, "day_hours", "is 0 to 24");
}

void SheetCheck::bounds(Bed& bed, const TomlTable& table) {
  checked(table, "name", bed.name, checked_name);
  if (bed.soil_peak)
    refuse_unless(plausible(*bed.soil_peak), table, "soil_peak_degc", "is 0 to 50");
}

void SheetCheck::bounds(Variety& variety, const TomlTable& table) {
  checked(table, "name", variety.name, checked_name);
}

void SheetCheck::bounds(Lot& lot, const TomlTable& table) {
  checked(table, "label", lot.label, checked_label);
  refuse_unless(lot.seeds >= 0, table, "seeds", "is 0 or more");
  refuse_unless(lot.packet_seeds.value_or(1) >= 1, table, "packet_seeds", "is 1 or more");
  refuse_unless(lot.price.value_or(0) >= 0, table, "price", "is 0 or more");
  refuse_unless(lot.year.value_or(2000) >= 1900 && lot.year.value_or(2000) <= 2200, table, "year",
                "is a year, as 2026");
}

void SheetCheck::bounds(LotTest& test, const TomlTable& table) {
  refuse_unless(test.sown >= 1, table, "sown", "is 1 or more");
  refuse_unless(test.sprouted >= 0 && test.sprouted <= test.sown, table, "sprouted",
                "is 0 or more, and no more than were sown");
}

void SheetCheck::bounds(Pairing& pairing, const TomlTable& table) {
  refuse_unless(pairing.want >= 0, table, "want", "is 0 or more");
  refuse_unless(pairing.weight > 0, table, "weight", "is above 0");
}

void SheetCheck::bounds(OwnRoot& own_root, const TomlTable& table) {
  refuse_unless(own_root.want >= 0, table, "want", "is 0 or more");
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
