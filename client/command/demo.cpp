// demo: an invented season, told in a few screens by the program's own commands.
#include <fmt/format.h>
#include <stdlib.h>

#include <csignal>
#include <embedded/demo.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/demo_chamber.hpp"
#include "client/command/demo_story.hpp"
#include "client/command/opened_book.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;

volatile std::sig_atomic_t interrupted = 0;

/// While it lives, Ctrl-C and SIGTERM only raise a flag, so that the children are stopped in order.
class OrderlyEnd {
 public:
  OrderlyEnd() {
    struct sigaction action {};
    action.sa_handler = [](int) { interrupted = 1; };
    ::sigaction(SIGINT, &action, &before_int_);
    ::sigaction(SIGTERM, &action, &before_term_);
  }
  ~OrderlyEnd() {
    ::sigaction(SIGINT, &before_int_, nullptr);
    ::sigaction(SIGTERM, &before_term_, nullptr);
  }
  OrderlyEnd(const OrderlyEnd&) = delete;
  OrderlyEnd& operator=(const OrderlyEnd&) = delete;

 private:
  struct sigaction before_int_ {};
  struct sigaction before_term_ {};
};

std::string_view embedded_text(std::string_view name) {
  for (const auto& file : embedded::demo) {
    if (file.name == name) return file.text;
  }
  return {};
}

/// The folder asked for, which must be new or empty, or a new one among the temporary files.
fs::path demo_folder(const std::string& asked) {
  if (asked.empty()) {
    std::string name = (fs::temp_directory_path() / "takehold-demo-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
      throw sensors::Refused({"no-folder", "no folder can be made", "", name, "--folder DIR"});
    }
    return name;
  }
  std::error_code failed;
  fs::create_directories(asked, failed);
  if (failed || !fs::is_empty(asked, failed) || failed) {
    throw sensors::Refused({"folder-not-empty", "the demo wants a folder of its own", "", asked,
                            "name one that is empty or not there yet"});
  }
  return fs::absolute(asked);
}

DemoBatch first_batch(const Book& book) {
  const auto batches = book.all<Batch>();
  if (batches.empty()) {
    throw sensors::Refused({"demo-stopped", "nothing was grafted", "", "", ""});
  }
  return {batches.front().id, batches.front().at};
}

void show_scene(const std::string& name, const fs::path& folder, const std::string& book_file,
                Context& context) {
  if (name != "chamber-week") return;
  const Book book = Book::open(book_file, context.now, {.must_exist = true});
  show_chamber_week(
      folder, first_batch(book), book.time_zone(), [] { return interrupted != 0; }, context.out);
}

void run_demo(const std::string& asked, Context& context) {
  const OrderlyEnd orderly;
  const fs::path folder = demo_folder(asked);
  std::ofstream(folder / "season.toml") << embedded_text("season.toml");
  const std::string book = (folder / "book.db").string();
  context.out.line("The demo keeps its book and log in " + folder.string());
  const StoryTeller teller{
      folder.string(), book, [] { return interrupted != 0; },
      [&](const std::string& name) { show_scene(name, folder, book, context); }};
  tell_story(embedded_text("story.txt"), teller, context.out);
  context.out.line(fmt::format("\nGo on exploring: takehold --book {} season show", book));
  context.out.document({{"folder", folder.string()}, {"book", book}});
}

}  // namespace

void add_demo(CommandTree& tree) {
  CLI::App& app = tree.command(
      "demo", {kBook, "an invented season from the first plan to the take rates",
               "It uses a folder of its own and never touches your book. Nothing in it is real.",
               "demo\ndemo --folder /tmp/low-sallow"});
  const auto folder = std::make_shared<std::string>();
  app.add_option("--folder", *folder, "where to; left out: a new folder for temporary files");
  tree.action(app, [folder](Context& context) { run_demo(*folder, context); });
}

}  // namespace takehold::client
