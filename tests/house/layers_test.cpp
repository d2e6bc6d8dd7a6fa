// The order of the layers, and that this test would notice a breach of each rule.
#include "tests/house/layers.hpp"

#include <gmock/gmock.h>

#include "embedded/places.hpp"
#include "tests/house/source_tree.hpp"
#include "tests/house/temporary_tree.hpp"

namespace takehold::house {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

TEST(Layers, includes_only_look_down) {
  EXPECT_THAT(layer_breaches(TAKEHOLD_SOURCE_DIR), IsEmpty());
}

TEST(Layers, all_three_layers_are_looked_at) {
  int sensors = 0, daemon = 0, client = 0;
  for (const auto& include : includes_of(TAKEHOLD_SOURCE_DIR)) {
    sensors += include.file.starts_with("sensors/");
    daemon += include.file.starts_with("daemon/");
    client += include.file.starts_with("client/");
  }
  EXPECT_GT(sensors, 20);
  EXPECT_GT(daemon, 20);
  EXPECT_GT(client, 20);
}

// One breach planted in a tree of its own; each must be found, at its line, and nothing else.
struct Planted {
  const char* file;
  const char* include;
  const char* why;
};

class PlantedBreach : public testing::TestWithParam<Planted> {};

TEST_P(PlantedBreach, is_found_at_its_line) {
  TemporaryTree tree;
  tree.write("sensors/air/air.hpp", "#pragma once\n#include <cmath>\n");
  tree.write(GetParam().file, std::string("// a comment\n#include \"sensors/air/air.hpp\"\n") +
                                  "#include " + GetParam().include + "\n");
  const auto breaches = layer_breaches(tree.root());
  ASSERT_THAT(breaches, Not(IsEmpty()));
  EXPECT_THAT(breaches.front(), HasSubstr(std::string(GetParam().file) + ":3: "));
  EXPECT_THAT(breaches.front(), HasSubstr(GetParam().why));
}

INSTANTIATE_TEST_SUITE_P(
    Layers, PlantedBreach,
    testing::Values(
        Planted{"sensors/codec/a.hpp", "\"daemon/api/b.hpp\"", "sensors looks up at daemon"},
        Planted{"sensors/codec/a.hpp", "\"client/season/b.hpp\"", "sensors looks up at client"},
        Planted{"daemon/watch/a.cpp", "\"client/season/b.hpp\"", "daemon looks up at client"},
        Planted{"daemon/healing/a.cpp", "\"daemon/log/b.hpp\"", "open folder"},
        Planted{"client/link/a.cpp", "\"daemon/log/b.hpp\"", "only store, toml"},
        Planted{"client/main.cpp", "\"daemon/settings/b.hpp\"", "only store, toml"},
        Planted{"client/season/a.hpp", "\"client/plan/b.hpp\"", "may not look"},
        Planted{"client/match/a.hpp", "\"client/growth/b.hpp\"", "may not look"},
        Planted{"client/plan/a.hpp", "\"client/book/b.hpp\"", "may not look"},
        Planted{"client/terminal/a.cpp", "\"client/link/b.hpp\"", "may not look"},
        Planted{"client/link/a.cpp", "\"client/book/b.hpp\"", "may not look"},
        Planted{"client/stray/a.cpp", "\"client/season/b.hpp\"", "no place in the order"},
        Planted{"client/plan/a.cpp", "<SQLiteCpp/Database.h>", "SQLite is kept out"},
        Planted{"client/season/a.cpp", "\"daemon/store/store.hpp\"", "SQLite is kept out"},
        Planted{"sensors/trace/a.cpp", "<sqlite3.h>", "SQLite is kept out"},
        Planted{"sensors/codec/a.cpp", "<boost/asio/read.hpp>", "Asio and Beast are kept out"},
        Planted{"daemon/watch/a.cpp", "<boost/beast/http.hpp>", "Asio and Beast are kept out"},
        Planted{"client/plan/a.cpp", "<CLI/CLI.hpp>", "CLI11 is kept out"},
        Planted{"client/command/a.cpp", "<curses.h>", "curses is kept out"}));

TEST(Layers, sqlite_behind_two_headers_is_seen_from_the_plan) {
  TemporaryTree tree;
  tree.write("client/plan/plan.cpp", "#include \"client/season/season.hpp\"\n");
  tree.write("client/season/season.hpp", "#include \"client/season/inner.hpp\"\n");
  tree.write("client/season/inner.hpp", "  #  include <sqlite3.h>\n");
  EXPECT_THAT(
      layer_breaches(tree.root()),
      ElementsAre(HasSubstr("client/season/inner.hpp:1: SQLite is kept out"),
                  HasSubstr("client/plan/plan.cpp: plan sees SQLite through client/season/inner")));
}

TEST(Layers, what_is_allowed_is_not_called_a_breach) {
  TemporaryTree tree;
  tree.write("daemon/log/log.cpp", "#include <SQLiteCpp/Statement.h>\n");
  tree.write("daemon/io/serial.cpp", "#include <boost/asio/serial_port.hpp>\n");
  tree.write("client/command/sow.cpp",
             "#include <CLI/CLI.hpp>\n#include \"client/book/book.hpp\"\n"
             "#include \"client/link/outbox.hpp\"\n#include \"daemon/healing/regime.hpp\"\n");
  tree.write("client/plan/plan.cpp", "#include \"client/match/match.hpp\"\n");
  EXPECT_THAT(includes_of(tree.root()), SizeIs(7));
  EXPECT_THAT(layer_breaches(tree.root()), IsEmpty());
}

}  // namespace
}  // namespace takehold::house
