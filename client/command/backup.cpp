// backup, restore: safe copies of the book, each proven by comparing every row.
#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/book/copies.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/opened_book.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

std::string proof_text(const CopyProof& proof) {
  return fmt::format("{} rows in {} tables compared, all the same", proof.rows, proof.tables);
}

void backup(Context& context, const std::string& file, bool replace) {
  const std::string book = book_path(context);
  if (fs::exists(file) && !replace) {
    throw sensors::Refused({"file-exists", "there is such a file already", "", file,
                            "name another, or say --replace"});
  }
  open_book(context, BookUse::reading);
  const CopyProof proof = back_up(book, file, context.now);
  context.out.line(fmt::format("{} is copied to {}: {}.", book, file, proof_text(proof)));
  context.out.line("Keep it on another disk. takehold restore puts it back.");
  context.out.document(
      {{"book", book}, {"file", file}, {"tables", proof.tables}, {"rows", proof.rows}});
}

void restore(Context& context, const std::string& file, bool replace) {
  const std::string book = book_path(context);
  const Restored restored = restore_book(file, book, context.now, replace);
  context.out.line(
      fmt::format("{} holds what {} held: {}.", book, file, proof_text(restored.proof)));
  if (!restored.set_aside.empty()) {
    context.out.line(fmt::format("What stood there before is {}.", restored.set_aside.string()));
  }
  Book put_back = open_book(context, BookUse::reading);
  tell_daemon(context, put_back);
  context.out.document(
      {{"book", book},
       {"file", file},
       {"tables", restored.proof.tables},
       {"rows", restored.proof.rows},
       {"set_aside", restored.set_aside.empty() ? json() : json(restored.set_aside.string())}});
}

struct Typed {
  std::string file;
  bool replace = false;
};

}  // namespace

void add_backup(CommandTree& tree) {
  CLI::App& app = tree.command(
      "backup", {kBook, "a safe copy of the whole book, also while it is in use",
                 "Every row of the copy is compared with the book before it is called done.",
                 "backup /media/stick/book-2027.db"});
  const auto words = std::make_shared<Typed>();
  app.add_option("FILE", words->file, "where to")->required();
  app.add_flag("--replace", words->replace, "over a copy that is there");
  tree.action(app, [words](Context& context) { backup(context, words->file, words->replace); });
}

void add_restore(CommandTree& tree) {
  CLI::App& app = tree.command(
      "restore",
      {kBook, "puts a copy made by backup in the book's place",
       "A book that stands there is set aside, and only with --replace. Others may have\n"
       "it open meanwhile: they see all of the copy or nothing.",
       "restore /media/stick/book-2027.db --replace"});
  const auto words = std::make_shared<Typed>();
  app.add_option("FILE", words->file, "the copy")->required();
  app.add_flag("--replace", words->replace, "set the book that is there aside");
  tree.action(app, [words](Context& context) { restore(context, words->file, words->replace); });
}

}  // namespace takehold::client
