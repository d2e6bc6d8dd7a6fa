// export: everything that stands in the book, as tables for a spreadsheet.
#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/book/csv_table.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/exported.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"
#include "sensors/codec/csv.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;

void make_folder(const fs::path& folder, bool replace) {
  std::error_code failed;
  if (fs::exists(folder) && !fs::is_directory(folder))
    failed = std::make_error_code(std::errc::not_a_directory);
  if (!failed) fs::create_directories(folder, failed);
  if (failed) {
    throw sensors::Refused(
        {"no-folder", "this folder cannot be made", failed.message(), folder.string(), ""});
  }
  if (replace || fs::is_empty(folder)) return;
  throw sensors::Refused({"folder-not-empty", "this folder has files in it", "", folder.string(),
                          "name a new one, or say --replace"});
}

std::string about_book(const Book& book) {
  return sensors::csv_line({"uuid", "time_zone"}) +
         sensors::csv_line({book.uuid(), book.time_zone().name()});
}

void run_export(Context& context, const std::string& typed_folder, bool replace) {
  const fs::path folder(typed_folder);
  const Book book = open_book(context, BookUse::reading);
  const auto nouns = book.nouns();
  make_folder(folder, replace);
  nlohmann::json files = nlohmann::json::array();
  const auto write = [&](const std::string& name, const std::string& text) {
    write_text_file((folder / name).string(), text);
    files.push_back(name);
  };
  for (const Kind kind : kAllKinds) write(table_file(kind), csv_of(kind, nouns));
  write(kBookFile, about_book(book));
  write(kSheetFile, book.last_sheet().dump(2) + "\n");
  write(kDictionaryFile, data_dictionary());
  context.out.line(fmt::format("{} in {} tables are in {}",
                               counted(static_cast<long long>(nouns.size()), "record", "records"),
                               std::size(kAllKinds), folder.string()));
  context.out.line(fmt::format("{} says what each column holds.", kDictionaryFile));
  context.out.document(
      {{"folder", folder.string()}, {"records", nouns.size()}, {"files", std::move(files)}});
}

}  // namespace

void add_export(CommandTree& tree) {
  CLI::App& app = tree.command(
      "export",
      {kBook, "everything that stands in the book, as CSV tables with a dictionary",
       "One table a kind of record, for a spreadsheet or a program. Earlier versions and\n"
       "what was taken back are not in it: backup keeps those, too.",
       "export tables-2027"});
  const auto folder = std::make_shared<std::string>();
  const auto replace = std::make_shared<bool>(false);
  app.add_option("FOLDER", *folder, "a folder, new or empty")->required();
  app.add_flag("--replace", *replace, "over the files of an earlier export");
  tree.action(app, [folder, replace](Context& context) { run_export(context, *folder, *replace); });
}

}  // namespace takehold::client
