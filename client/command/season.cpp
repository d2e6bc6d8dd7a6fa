// `takehold season`: the sheet written by hand, into the book and back.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/book/copies.hpp"
#include "client/book/load_season.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/season_close.hpp"
#include "client/command/text_file.hpp"
#include "client/season/sheet.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

void write_file(const std::string& path, const std::string& text, bool replace) {
  if (!replace && fs::exists(path)) {
    throw sensors::Refused({"file-exists", "there is such a file already", "", path,
                            "name another, or say --replace"});
  }
  write_text_file(path, text);
}

json nouns_json(const std::vector<LoadedNoun>& nouns) {
  json list = json::array();
  for (const LoadedNoun& noun : nouns) {
    list.push_back({{"kind", std::string(kind_name(noun.kind))},
                    {"name", noun.name},
                    {"fields", noun.fields},
                    {"dropped", noun.dropped}});
  }
  return list;
}

std::string value_text(const json& value) {
  return value.is_null() ? "nothing" : value.is_string() ? value.get<std::string>() : value.dump();
}

void print_nouns(Output& out, const char* what, const std::vector<LoadedNoun>& nouns) {
  for (const LoadedNoun& noun : nouns) {
    out.line(fmt::format("{}: {} {}{}", what, kind_name(noun.kind), noun.name,
                         noun.dropped ? " (dropped: nothing was recorded for it)" : ""));
  }
}

void print_report(Output& out, const LoadReport& report) {
  print_nouns(out, "added", report.added);
  for (const LoadedNoun& noun : report.changed) {
    for (const auto& [field, change] : noun.fields.items()) {
      out.line(fmt::format("changed: {} {}: {} was {}, is {}", kind_name(noun.kind), noun.name,
                           field, value_text(change.value("was", json())),
                           value_text(change.value("now", json()))));
    }
  }
  print_nouns(out, "in the book, not in the sheet", report.missing);
  out.line(fmt::format("{} added, {} changed, {} as before, {} missing from the sheet",
                       report.added.size(), report.changed.size(), report.unchanged.size(),
                       report.missing.size()));
}

struct LoadWords {
  std::string file;
  bool sheet_wins = false, book_wins = false;
};

MergeWinner winner_of(const LoadWords& words) {
  return words.sheet_wins  ? MergeWinner::sheet
         : words.book_wins ? MergeWinner::book
                           : MergeWinner::nobody;
}

void load(Context& context, const LoadWords& words) {
  const Sheet sheet = read_sheet(read_text_file(words.file), words.file);
  Book book = open_book(context, BookUse::recording);
  const LoadReport report =
      load_season(book, sheet, "season load " + words.file, context.now, winner_of(words));
  print_report(context.out, report);
  context.out.document({{"added", nouns_json(report.added)},
                        {"changed", nouns_json(report.changed)},
                        {"unchanged", nouns_json(report.unchanged)},
                        {"missing", nouns_json(report.missing)}});
}

/// Next year's: everything as in the book, the seed left over, a year later.
Sheet next_sheet(const Book& book) {
  Sheet sheet = season_of(book);
  using std::chrono::year_month_day, std::chrono::years;
  year_month_day next = year_month_day(sheet.season.ready_on) + years(1);
  if (!next.ok()) next = next.year() / next.month() / std::chrono::last;
  sheet.season.ready_on = sensors::Day(next);
  sheet.season.season = std::to_string(sensors::year_of(sheet.season.ready_on));
  std::erase_if(sheet.lots, [&](Lot& lot) {
    lot.packet_seeds = lot.packet_seeds.value_or(lot.seeds);
    lot.seeds = book.on_hand(lot.label);
    return lot.seeds <= 0;
  });
  std::erase_if(sheet.lot_tests, [&](const LotTest& test) {
    return std::none_of(sheet.lots.begin(), sheet.lots.end(),
                        [&](const Lot& lot) { return lot.label == test.lot; });
  });
  sheet.season.away.clear();
  for (Pairing& pairing : sheet.pairings) pairing.ready_on.reset();
  return sheet;
}

std::string first_sheet(sensors::Instant now) {
  const char* zone = std::getenv("TZ");
  const bool named = zone != nullptr && sensors::TimeZone::named(zone);
  const std::string name = named ? zone : "UTC";
  const int year = sensors::year_of(sensors::TimeZone::named(name)->day_of(now));
  return new_sheet(sensors::make_day(year + 1, 5, 15), name);
}

void write_new(Context& context, const std::string& file) {
  const bool has_book = fs::exists(book_path(context));
  std::string text;
  if (has_book) {
    const Book book = open_book(context, BookUse::reading);
    if (book.find<Season>("season")) text = write_sheet(next_sheet(book));
  }
  const bool from_book = !text.empty();
  if (!from_book) text = first_sheet(context.now);
  write_file(file, text, false);
  context.out.line(fmt::format("{} is there: {}", file,
                               from_book ? "next year's, with the seed left over"
                                         : "a sheet to start from, with its explanations"));
  context.out.line("Change it with any editor, then: takehold season load " + file);
  context.out.document({{"file", file}, {"from_book", from_book}});
}

void write_current(Context& context, const std::string& file, bool replace) {
  const Book book = open_book(context, BookUse::reading);
  write_file(file, write_sheet(season_of(book)), replace);
  context.out.line(file + " holds the season as the book has it now.");
  context.out.document({{"file", file}});
}

template <class T>
json all_json(const Book& book) {
  json list = json::array();
  for (const T& noun : book.all<T>()) list.push_back(to_json(noun));
  return list;
}

void show(Context& context) {
  const Book book = open_book(context, BookUse::reading);
  const Season season = season_in(book);
  const auto pairings = book.all<Pairing>();
  Output& out = context.out;
  out.line(fmt::format("Season {}: ready on {}, wanted {}", season.season,
                       shown_with_weekday(season.ready_on, out.style().dates),
                       "with a chance of " + chance(season.confidence)));
  out.line(fmt::format("Healing plan {}; stems within {} % of their mean; time zone {}",
                       season.regime, fixed(season.tolerance_pct, 0), book.time_zone().name()));
  Table table({{"pairing"}, {"scion"}, {"rootstock"}, {"want", Align::right}, {"method"}});
  for (const Pairing& pairing : pairings) {
    table.add({pairing.id, pairing.scion, pairing.rootstock, std::to_string(pairing.want),
               std::string(to_text(pairing.method))});
  }
  if (!table.is_empty()) out.text("\n" + table.text(out.style()));
  out.document({{"season", to_json(season)},
                {"time_zone", book.time_zone().name()},
                {"benches", all_json<Bench>(book)},
                {"beds", all_json<Bed>(book)},
                {"varieties", all_json<Variety>(book)},
                {"lots", all_json<Lot>(book)},
                {"pairings", all_json<Pairing>(book)},
                {"own_root", all_json<OwnRoot>(book)}});
}

struct CloseWords {
  std::string archive, note;
  TypedWhen when;
};

void close(Context& context, const CloseWords& words) {
  if (!words.archive.empty() && fs::exists(words.archive)) {
    throw sensors::Refused(
        {"file-exists", "there is such a file already", "", words.archive, "name another"});
  }
  Book book = open_book(context, BookUse::reading);
  const Telling telling = telling_of(context, book, words.when, words.note);
  const SeasonClose record = close_season(telling);
  context.out.line(
      fmt::format("Season {} is closed: nothing more is recorded in it.", record.season));
  if (!words.archive.empty()) {
    back_up(book.path(), words.archive, context.now);
    context.out.line(words.archive + " is a copy of the book as it stands now.");
  }
  context.out.line("The next begins with: takehold season new FILE");
  json document = record_json(telling, record);
  document["archive"] = words.archive.empty() ? json() : json(words.archive);
  context.out.document(std::move(document));
}

void add_close(CommandTree& tree, CLI::App& season) {
  CLI::App& app = tree.command_under(
      season, "close",
      {"", "the season is over: nothing more is recorded in it",
       "Lines of the plan that were never done are dropped. Batches must be finished first.\n"
       "One undo takes it back; loading a sheet of another season begins that one.",
       "season close\nseason close --archive book-2027.db"});
  const auto words = std::make_shared<CloseWords>();
  app.add_option("--archive", words->archive, "a new file for a copy of the whole book");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { close(context, *words); });
}

void add_load(CommandTree& tree, CLI::App& season) {
  CLI::App& app = tree.command_under(season, "load",
                                     {"", "takes a sheet into the book",
                                      "One load is one undo. Nothing is deleted: what the sheet no "
                                      "longer holds is listed. What was\n"
                                      "changed both in the sheet and by `edit` since the last load "
                                      "refuses the whole load, unless\n"
                                      "you say who wins.",
                                      "season load 2027.toml\nseason load 2027.toml --sheet-wins"});
  const auto words = std::make_shared<LoadWords>();
  app.add_option("FILE", words->file, "the sheet")->required();
  auto* sheet = app.add_flag("--sheet-wins", words->sheet_wins, "where both changed, the sheet's");
  app.add_flag("--book-wins", words->book_wins, "where both changed, the book's")->excludes(sheet);
  tree.action(app, [words](Context& context) { load(context, *words); });
}

void add_new(CommandTree& tree, CLI::App& season) {
  CLI::App& app = tree.command_under(season, "new",
                                     {"", "writes a sheet to start from",
                                      "The first has every key with its explanation. With a season "
                                      "in the book it is next year's,\n"
                                      "with the seed that is left over.",
                                      "season new 2027.toml"});
  const auto file = std::make_shared<std::string>();
  app.add_option("FILE", *file, "a file that is not there yet")->required();
  tree.action(app, [file](Context& context) { write_new(context, *file); });
}

void add_write(CommandTree& tree, CLI::App& season) {
  CLI::App& app = tree.command_under(
      season, "write",
      {"", "writes the book's season out as a sheet", "", "season write 2027.toml"});
  const auto file = std::make_shared<std::string>();
  const auto replace = std::make_shared<bool>(false);
  app.add_option("FILE", *file, "where to")->required();
  app.add_flag("--replace", *replace, "over a file that is there (its own comments are lost)");
  tree.action(app, [file, replace](Context& context) { write_current(context, *file, *replace); });
}

}  // namespace

void add_season(CommandTree& tree) {
  CLI::App& app =
      tree.command("season", {kPlanning, "the season's sheet: write one, load it, see it",
                              "A sheet is one file that says what you have and what you want.",
                              "season new 2027.toml\nseason load 2027.toml\nseason show"});
  add_new(tree, app);
  add_load(tree, app);
  add_write(tree, app);
  add_close(tree, app);
  tree.action(tree.command_under(app, "show", {"", "the season in the book", "", "season show"}),
              [](Context& context) { show(context); });
}

}  // namespace takehold::client
