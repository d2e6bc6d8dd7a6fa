// The program from its arguments to its answer: match on two files.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "tests/client/command/run_support.hpp"

namespace takehold::client {
namespace {

class MatchCommand : public testing::Test {
 protected:
  MatchCommand() {
    folder_ = std::filesystem::temp_directory_path() / ("match-" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder_);
  }
  ~MatchCommand() override { std::filesystem::remove_all(folder_); }

  std::string file(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
    return (folder_ / name).string();
  }

  Said matched(const std::string& roots, const std::string& scions, const std::string& within) {
    return run({"match", "--rootstocks", roots, "--scions", scions, "--within", within, "--json"});
  }

  std::filesystem::path folder_;
};

// The case named s1_nearest_loses_a_pair of tests/reference/matching_cases.json, in mm.
TEST_F(MatchCommand, the_most_pairs_are_found_where_the_nearest_neighbour_loses_one) {
  const auto roots = file("r.txt", "0.10\n0.11\n");
  const auto scions = file("s.txt", "# thin ones\n0,07\n\n0.11\n");
  const auto answer = matched(roots, scions, "0.03").document();
  EXPECT_EQ(answer["count"], 2);
  EXPECT_DOUBLE_EQ(answer["mismatch_total_mm"], 0.03);
  EXPECT_EQ(answer["pairs"][0]["rootstock"], 0);
  EXPECT_EQ(answer["pairs"][0]["scion"], 0);
  EXPECT_DOUBLE_EQ(answer["pairs"][0]["scion_mm"], 0.07);
  EXPECT_TRUE(answer["left_over"]["rootstocks"].empty());
}

TEST_F(MatchCommand, the_limit_is_inclusive_and_left_over_stems_are_listed) {
  const auto roots = file("r.txt", "2.2\n3.0\n");
  const auto scions = file("s.txt", "2.0\n");
  const auto answer = matched(roots, scions, "0.2").document();
  EXPECT_EQ(answer["count"], 1);
  EXPECT_EQ(answer["left_over"]["rootstocks"], nlohmann::json::array({1}));
}

TEST_F(MatchCommand, a_stem_of_23_mm_is_refused_by_file_and_line) {
  const auto roots = file("r.txt", "2.2\n23\n");
  const auto scions = file("s.txt", "2.0\n");
  const auto said = matched(roots, scions, "0.2");
  EXPECT_EQ(said.exit_code, 1);
  const auto error = said.document()["error"];
  EXPECT_EQ(error["code"], "bad-diameter");
  EXPECT_EQ(error["where"], roots + ":2");
  EXPECT_NE(said.err.find("2.3"), std::string::npos);
}

TEST_F(MatchCommand, a_file_that_is_not_there_is_refused_and_half_a_question_is_wrong_usage) {
  const auto scions = file("s.txt", "2.0\n");
  const auto said = matched("/nowhere", scions, "0.2");
  EXPECT_EQ(said.exit_code, 1);
  EXPECT_NE(said.err.find("/nowhere"), std::string::npos);
  EXPECT_EQ(run({"match", "--scions", scions, "--within", "0.2"}).exit_code, 2);
  EXPECT_EQ(run({"match", "--rootstocks", scions, "--scions", scions}).exit_code, 2);
  EXPECT_EQ(run({"match"}).exit_code, 2);
}

}  // namespace
}  // namespace takehold::client
