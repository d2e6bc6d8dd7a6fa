// What the pages say about the project's own files and addresses.
#include <gmock/gmock.h>

#include <cctype>
#include <map>

#include "daemon/api/route.hpp"
#include "embedded/places.hpp"
#include "tests/house/program_run.hpp"
#include "tests/house/promises.hpp"
#include "tests/house/source_tree.hpp"
#include "tests/house/temporary_tree.hpp"

namespace takehold::house {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;
using testing::SizeIs;

const fs::path kRoot = TAKEHOLD_SOURCE_DIR;

TEST(Pages, readme_opens_with_the_job_and_then_the_two_commands) {
  const auto lines = typed_lines(kRoot, "README.md", "bash");
  ASSERT_THAT(lines, SizeIs(testing::Ge(2u)));
  EXPECT_EQ(lines[0].words, (std::vector<std::string>{"bash", "config/setup", "demo"}));
  EXPECT_EQ(lines[1].words, (std::vector<std::string>{"bash", "config/setup", "test"}));
  const auto text = text_of(kRoot / "README.md");
  EXPECT_LT(text.find("config/setup demo"), text.find("\n## "));
}

TEST(Pages, setup_knows_the_words_that_readme_uses) {
  TemporaryTree home;
  const auto setup = (kRoot / "config/setup").string();
  const auto usage = run({"bash", setup, "no-such-word"}, home.root());
  EXPECT_EQ(usage.exit_code, 2);
  for (const auto& line : typed_lines(kRoot, "README.md", "bash")) {
    EXPECT_THAT(usage.output, HasSubstr("config/setup " + line.words.at(2)));
  }
}

TEST(Pages, a_typed_line_is_taken_apart_as_a_shell_would) {
  TemporaryTree tree;
  tree.write("page.md",
             "takehold no\n    takehold graft P1 --by \"own hands\"   # a batch\n    ls\n");
  const auto lines = typed_lines(tree.root(), "page.md", "takehold");
  ASSERT_THAT(lines, SizeIs(1));
  EXPECT_EQ(lines[0].where, "page.md:2");
  EXPECT_EQ(lines[0].words,
            (std::vector<std::string>{"takehold", "graft", "P1", "--by", "own hands"}));
}

struct Address {
  std::string method;  // GET
  std::string path;    // /v1/occupants/{label}
};

// The paths of openapi.yaml stand two spaces in, their methods four.
std::vector<Address> openapi_addresses() {
  std::vector<Address> found;
  std::string path;
  for (const auto& line : lines_of(kRoot / "docs/openapi.yaml")) {
    if (line.starts_with("  /")) path = line.substr(2, line.find(':') - 2);
    for (const std::string method : {"get", "put", "post", "delete"}) {
      if (line != "    " + method + ":") continue;
      std::string upper = method;
      for (char& c : upper) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
      found.push_back({upper, path});
    }
  }
  return found;
}

// With the names in braces replaced by one of the kind.
std::string target_of(std::string path) {
  for (const auto& [name, value] : {std::pair{"{label}", "G1"}, std::pair{"{id}", "W1"}}) {
    if (const auto at = path.find(name); at != std::string::npos) {
      path.replace(at, std::string(name).size(), value);
    }
  }
  return path;
}

TEST(Pages, every_address_of_the_openapi_page_is_told_in_words_and_routed) {
  const auto words = text_of(kRoot / "docs/interface.md");
  const auto addresses = openapi_addresses();
  EXPECT_THAT(addresses, SizeIs(testing::Ge(10u)));
  for (const auto& [method, path] : addresses) {
    EXPECT_THAT(words, HasSubstr("`" + method + " " + path));
    EXPECT_TRUE(daemon::route_of(method, target_of(path))) << method << " " << path;
  }
}

TEST(Pages, every_method_that_an_address_allows_stands_in_the_openapi_page) {
  std::map<std::string, std::string> told;
  for (const auto& [method, path] : openapi_addresses()) told[path] += method + " ";
  for (const auto& [path, methods] : told) {
    std::string word;
    for (const char c : daemon::allowed_methods(target_of(path)) + ",") {
      if (c != ',' && c != ' ') word += c;
      if (c != ',') continue;
      EXPECT_TRUE(word == "HEAD" || methods.find(word) != std::string::npos) << path << " " << word;
      word.clear();
    }
  }
}

TEST(Pages, an_address_that_is_not_there_is_not_routed) {
  EXPECT_FALSE(daemon::route_of("GET", "/v1/no-such-thing"));
  EXPECT_FALSE(daemon::route_of("DELETE", "/v1/status"));
}

}  // namespace
}  // namespace takehold::house
