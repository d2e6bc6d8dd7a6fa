// demo: an invented season, told in a few screens by the program's own commands.
#include <fmt/format.h>
#include <stdlib.h>

#include <csignal>
#include <embedded/demo.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>

#include "client/command/command_tree.hpp"
#include "client/command/demo_chamber.hpp"
#include "client/command/demo_story.hpp"
#include "client/command/moved_dates.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/text_file.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {

namespace {

namespace fs = std::filesystem;

volatile std::sig_atomic_t interrupted = 0;

bool is_interrupted() {
  return interrupted != 0;
}

/// While it lives, Ctrl-C and SIGTERM only raise a flag, so that the children are stopped in order.
class OrderlyEnd {
 public:
  OrderlyEnd() {
    interrupted = 0;
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
  constexpr std::size_t kLongest = 80;  // a socket's whole path may have 107 bytes
  const fs::path folder = fs::absolute(asked).lexically_normal();
  if (folder.string().size() > kLongest) {
    throw sensors::Refused({"name-too-long", "this folder's path is too long for a socket in it",
                            "", folder.string(), "one of at most 80 letters"});
  }
  std::error_code failed;
  fs::create_directories(folder, failed);
  if (failed || !fs::is_empty(folder, failed) || failed) {
    throw sensors::Refused({"folder-not-empty", "the demo wants a folder of its own", "",
                            folder.string(), "name one that is empty or not there yet"});
  }
  return folder;
}

struct Demo {
  DemoFiles files;
  std::string book;
  Context& context;
  std::optional<LiveChamber> chamber;

  void scene(const std::string& name) {
    if (name == "chamber-live") {
      chamber.emplace(files, is_interrupted);
      return;
    }
    const Book opened = Book::open(book, context.now, {.must_exist = true});
    const Batch first = opened.find<Batch>("G1").value();
    show_chamber_week(files, {first.id, first.at}, opened.time_zone(), is_interrupted, context.out);
  }
};

void wait_for_enter(Context& context) {
  context.out.text("\n[Enter goes on] ");
  std::string line;
  std::getline(context.in, line);
}

void say_where_it_is(const Demo& demo, Output& out) {
  const std::string again = demo.files.write_again().string();
  out.line("\n" + inked("Go on exploring", Ink::strong, out.style()) + "\n===============");
  const std::string takehold = "  takehold --settings " + demo.files.at("takehold.toml").string();
  out.line(takehold + " today");
  out.line(takehold + " variety list");
  out.line("  sh " + again + "    # the chamber, until Ctrl-C; and beside it:");
  out.line(takehold + " watch");
  out.line("Remove the folder when you have seen enough.");
}

void run_demo(const std::string& asked, bool by_screens, Context& context) {
  if (context.options.book || context.options.daemon) {
    throw WrongUsage({"usage", "the demo has a book and a chamber of its own", "",
                      context.options.book ? "--book" : "--daemon", "--folder DIR says where"});
  }
  const OrderlyEnd orderly;
  const fs::path folder = demo_folder(asked);
  Demo demo{DemoFiles(folder), (folder / "book.db").string(), context, std::nullopt};
  // Moved by whole weeks, so that its last day is not long ago and week-ends stay week-ends.
  const std::string_view story = embedded_text("story.txt");
  const auto moved = std::chrono::floor<std::chrono::weeks>(context.now - last_moment(story));
  write_text_file(demo.files.at("season.toml").string(),
                  with_dates_moved(embedded_text("season.toml"), moved));
  StoryTeller teller;
  teller.folder = folder.string();
  teller.always = {"--settings", demo.files.write_client_settings().string(), "--daemon",
                   demo.files.daemon_address()};
  teller.now = context.now;
  teller.is_interrupted = is_interrupted;
  teller.scene = [&demo](const std::string& name) { demo.scene(name); };
  teller.pause = [&] {
    if (by_screens) wait_for_enter(context);
  };
  context.out.line("An invented season. All of it is kept in " + folder.string());
  tell_story(with_dates_moved(story, moved), teller, context.out);
  say_where_it_is(demo, context.out);
  context.out.document({{"folder", folder.string()}, {"book", demo.book}});
}

}  // namespace

void add_demo(CommandTree& tree) {
  struct Typed {
    std::string folder;
    bool by_screens = false;
  };
  CLI::App& app = tree.command(
      "demo", {kBook, "an invented season from the first plan to the take rates",
               "It uses a folder of its own and never touches your book. Nothing in it is real,\n"
               "but the programs are: a simulated probe speaks to chamberd as a bought one would.",
               "demo\ndemo --by-screens\ndemo --folder low-sallow"});
  const auto typed = std::make_shared<Typed>();
  app.add_option("--folder", typed->folder,
                 "where to; left out: a new folder among the temporary files");
  app.add_flag("--by-screens", typed->by_screens, "wait for Enter after each screen");
  tree.action(app,
              [typed](Context& context) { run_demo(typed->folder, typed->by_screens, context); });
}

}  // namespace takehold::client
