// The sheet in two passes over each table: its fields by their description, then what no type can
// say: bounds, names, what stands twice, what is named but not there. All mistakes are collected.
#include "client/season/check_sheet.hpp"
#include "client/season/sheet.hpp"
#include "client/season/sheet_fields.hpp"

namespace takehold::client {
namespace {

using daemon::TomlDocument;

template <class T>
std::vector<T> read_list(const TomlTable& root, std::string_view key, SheetCheck& check) {
  std::vector<T> nouns;
  for (const TomlTable& table : root.tables(key)) {
    T noun = read_fields<T>(table);
    check.noun(noun, table);
    nouns.push_back(std::move(noun));
  }
  return nouns;
}

void read_test(const TomlTable& table, const std::string& lot, SheetCheck& check, Sheet& sheet) {
  LotTest test = read_fields<LotTest>(table);
  test.lot = lot;
  check.noun(test, table);
  sheet.lot_tests.push_back(test);
}

// `tested` is one table or a list of them.
void read_tests(const TomlTable& lot_table, const std::string& lot, SheetCheck& check,
                Sheet& sheet) {
  const auto tested = lot_table.value("tested");
  if (!tested) return;
  if (!tested->is_list()) {
    if (const auto table = tested->table()) read_test(*table, lot, check, sheet);
    return;
  }
  for (const TomlValue& item : tested->items())
    if (const auto table = item.table()) read_test(*table, lot, check, sheet);
}

void read_lots(const TomlTable& root, SheetCheck& check, Sheet& sheet) {
  for (const TomlTable& table : root.tables("lot")) {
    Lot lot = read_fields<Lot>(table);
    check.noun(lot, table);
    read_tests(table, lot.label, check, sheet);
    sheet.lots.push_back(std::move(lot));
  }
}

constexpr int kFrostMargin = 14;  // days (common practice)
constexpr int kMostMargin = 120;  // more is a slip of the hand

/// The day that [place] gives when ready_on is left out: the last frost and some days.
std::optional<Day> day_after_frost(const TomlTable& root) {
  const auto place = root.table("place");
  if (!place) return std::nullopt;
  const auto frost = place->day("last_frost");
  const auto margin = place->whole("frost_margin_days", 0, kMostMargin);
  if (!frost) return std::nullopt;
  return *frost + sensors::Days(margin.value_or(kFrostMargin));
}

Season read_season(const TomlTable& root) {
  const auto after_frost = day_after_frost(root);
  const bool reckoned = after_frost && !root.has("ready_on");
  auto season = read_fields<Season>(root, reckoned ? "ready_on" : "");
  if (reckoned) season.ready_on = *after_frost;
  return season;
}

}  // namespace

Sheet read_sheet(std::string_view text, std::string_view file) {
  const TomlDocument document = daemon::parse_toml(text, std::string(file)).value();
  const TomlTable root = document.root();
  Sheet sheet;
  sheet.file = file;
  SheetCheck check(sheet.where);
  sheet.season = read_season(root);
  check.season(sheet.season, root);
  sheet.benches = read_list<Bench>(root, "bench", check);
  for (std::size_t i = 0; i < sheet.benches.size(); ++i)
    sheet.benches[i].position = static_cast<int>(i);
  sheet.beds = read_list<Bed>(root, "bed", check);
  sheet.varieties = read_list<Variety>(root, "variety", check);
  read_lots(root, check, sheet);
  sheet.pairings = read_list<Pairing>(root, "pairing", check);
  sheet.own_roots = read_list<OwnRoot>(root, "own_root", check);
  check.references(sheet);
  document.refuse_mistakes();
  return sheet;
}

}  // namespace takehold::client
