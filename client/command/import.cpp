// import: tables as `export` wrote them, changed or not, back into the book.
#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/book/csv_table.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/exported.hpp"
#include "client/command/import_check.hpp"
#include "client/command/recording.hpp"
#include "client/command/text_file.hpp"
#include "sensors/codec/csv.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

/// What lies in an export's folder, or the one table that was named.
struct Tables {
  std::vector<PlainNoun> nouns;
  std::optional<std::string> uuid;
  std::optional<sensors::TimeZone> zone;
  std::optional<json> sheet;
};

void read_table(const fs::path& file, Kind kind, Tables& tables) {
  for (PlainNoun& noun : nouns_of_csv(kind, read_text_file(file.string()), file.string())) {
    tables.nouns.push_back(std::move(noun));
  }
}

void read_about(const fs::path& folder, Tables& tables) {
  const fs::path about = folder / kBookFile;
  if (fs::exists(about)) {
    const auto rows = sensors::parse_csv(read_text_file(about.string()), about.string()).value();
    if (rows.size() < 2 || rows[1].fields.size() < 2 || !rows[1].fields[0] || !rows[1].fields[1]) {
      throw sensors::Refused(
          {"bad-csv", "a book's number and time zone are wanted", "", about.string() + ":2", ""});
    }
    tables.uuid = rows[1].fields[0];
    tables.zone = sensors::TimeZone::named(*rows[1].fields[1]).value();
  }
  const fs::path sheet = folder / kSheetFile;
  if (!fs::exists(sheet)) return;
  json document = json::parse(read_text_file(sheet.string()), nullptr, false);
  if (!document.is_object()) {
    throw sensors::Refused({"bad-json", "this is no JSON object", "", sheet.string(), ""});
  }
  if (!document.empty()) tables.sheet = std::move(document);
}

Tables read_tables(const fs::path& path) {
  Tables tables;
  if (!fs::is_directory(path)) {
    const auto kind =
        path.extension() == ".csv" ? kind_of_name(path.stem().string()) : std::nullopt;
    if (fs::exists(path) && !kind) {
      throw sensors::Refused({"unknown-table", "the file's name is no table's", "", path.string(),
                              "as lot.csv; export writes them all"});
    }
    read_table(path, kind.value_or(Kind::lot), tables);
    return tables;
  }
  bool any = false;
  for (const Kind kind : kAllKinds) {
    if (!fs::exists(path / table_file(kind))) continue;
    read_table(path / table_file(kind), kind, tables);
    any = true;
  }
  if (!any) {
    throw sensors::Refused({"no-tables", "no table of an export lies here", "", path.string(), ""});
  }
  read_about(path, tables);
  return tables;
}

/// Numbers mean something only in the book that gave them: S1 of another is another sowing.
void refuse_other_book(const Book& book, const Tables& tables) {
  if (!tables.uuid || *tables.uuid == book.uuid() || book.commands().empty()) return;
  throw sensors::Refused({"other-book", "these tables are another book's, and this one has records",
                          "the same numbers would mean different things", book.path().string(),
                          "import them into a new one: --book FILE"});
}

void run_import(Context& context, const std::string& path) {
  const Tables tables = read_tables(path);
  Book book = open_book(context, BookUse::recording);
  refuse_other_book(book, tables);
  check_import(book, tables.nouns);
  const TakenIn taken =
      book.take_in(tables.nouns, "import " + path, context.now, tables.zone, tables.sheet);
  context.out.line(fmt::format("{} added, {} changed, {} as before, {} missing from the tables{}",
                               taken.added.size(), taken.changed.size(), taken.unchanged,
                               taken.missing.size(),
                               taken.missing.empty() ? "" : " and left as they are"));
  tell_daemon(context, book);
  context.out.document({{"added", nouns_json(taken.added)},
                        {"changed", nouns_json(taken.changed)},
                        {"unchanged", taken.unchanged},
                        {"missing", nouns_json(taken.missing)}});
}

}  // namespace

void add_import(CommandTree& tree) {
  CLI::App& app = tree.command(
      "import",
      {kBook, "tables as export wrote them, changed or not, back into the book",
       "What is new or stands differently is recorded; nothing is deleted. One import is\n"
       "one undo. A row without its number in the column told counts as told last.",
       "import tables-2027\nimport lot.csv"});
  const auto path = std::make_shared<std::string>();
  app.add_option("FOLDER", *path, "an export's folder, or one of its tables")->required();
  tree.action(app, [path](Context& context) { run_import(context, *path); });
}

}  // namespace takehold::client
