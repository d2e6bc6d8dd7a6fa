// The text rules on the project itself, and on trees with a breach planted in each.
#include "tests/house/text_rules.hpp"

#include <gmock/gmock.h>

#include "embedded/places.hpp"
#include "tests/house/temporary_tree.hpp"

namespace takehold::house {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr int kLongestFile = 500;

TEST(TextRules, no_source_file_is_over_500_lines) {
  EXPECT_THAT(long_files(TAKEHOLD_SOURCE_DIR, kLongestFile), IsEmpty());
}

TEST(TextRules, no_file_names_a_place_of_one_machine) {
  EXPECT_THAT(machine_paths(TAKEHOLD_SOURCE_DIR), IsEmpty());
}

TEST(TextRules, every_link_of_the_docs_leads_somewhere) {
  EXPECT_THAT(broken_links(TAKEHOLD_SOURCE_DIR), IsEmpty());
}

TEST(TextRules, logic_is_given_its_time) {
  EXPECT_THAT(clock_readers(TAKEHOLD_SOURCE_DIR), IsEmpty());
}

TEST(TextRules, draws_repeat_on_any_machine) {
  EXPECT_THAT(unrepeatable_draws(TAKEHOLD_SOURCE_DIR), IsEmpty());
}

TEST(TextRules, a_clock_inside_logic_is_found_and_one_in_the_shell_is_not) {
  TemporaryTree tree;
  const std::string reads = "// steady_clock::now\nauto t = std::chrono::steady_clock::now();\n";
  tree.write("daemon/watch/watch.cpp", reads);
  tree.write("daemon/io/serial.cpp", reads);
  tree.write("client/plan/plan.cpp", "std::random_device seed;\n");
  EXPECT_THAT(clock_readers(tree.root()), ElementsAre("daemon/watch/watch.cpp:2: steady_clock::now",
                                                      "client/plan/plan.cpp:1: random_device"));
}

TEST(TextRules, a_draw_that_does_not_repeat_is_found) {
  TemporaryTree tree;
  tree.write("client/plan/plan.cpp", "std::normal_distribution<double> noise;\n");
  EXPECT_THAT(unrepeatable_draws(tree.root()),
              ElementsAre("client/plan/plan.cpp:1: std::normal_distribution"));
}

TEST(TextRules, a_file_one_line_too_long_is_found_and_data_may_be_long) {
  TemporaryTree tree;
  std::string lines;
  for (int i = 0; i < kLongestFile; ++i) lines += "// line\n";
  tree.write("sensors/air/just_fits.cpp", lines);
  tree.write("sensors/air/too_long.cpp", lines + "// one more\n");
  tree.write("tests/reference/table.csv", lines + lines);
  EXPECT_THAT(long_files(tree.root(), kLongestFile),
              ElementsAre("sensors/air/too_long.cpp: 501 lines"));
}

TEST(TextRules, a_place_of_one_machine_is_found_and_words_like_it_are_not) {
  TemporaryTree tree;
  const std::string work = std::string("/") + "work";
  const std::string home = std::string("/") + "root";
  tree.write("docs/good.md", "the rooted/rootstock, n_r/rootstock, " + home + "ed, net" + work +
                                 ", a" + home + ", ${x}" + work + "\n");
  tree.write("docs/bad.md", "fine\nsee " + work + "/notes\n\"" + home + "\"\n");
  EXPECT_THAT(machine_paths(tree.root()),
              ElementsAre("docs/bad.md:2: names " + work, "docs/bad.md:3: names " + home));
}

TEST(TextRules, a_link_to_no_file_or_no_heading_is_found) {
  TemporaryTree tree;
  tree.write("docs/one.md", "# One page\n[here](#one-page) [there](two.md#a-thing-it-says)\n");
  tree.write("docs/two.md", "## A thing, it says\n[no](three.md)\n[no](one.md#two-pages)\n");
  EXPECT_THAT(broken_links(tree.root()),
              ElementsAre(HasSubstr("docs/two.md:2: leads nowhere: three.md"),
                          HasSubstr("docs/two.md:3: leads nowhere: one.md#two-pages")));
}

}  // namespace
}  // namespace takehold::house
