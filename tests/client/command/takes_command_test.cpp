// takes on a table of one's own, against figures of other programs.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "tests/client/command/run_support.hpp"

namespace takehold::client {
namespace {

class TakesCommand : public testing::Test {
 protected:
  TakesCommand() {
    file_ = std::filesystem::temp_directory_path() / ("takes-" + std::to_string(::getpid()));
  }
  ~TakesCommand() override { std::filesystem::remove(file_); }

  Said takes(const std::string& table) {
    std::ofstream(file_) << table;
    return run({"takes", "--from", file_.string(), "--json"});
  }

  std::filesystem::path file_;
};

// Wilson 95 % of 45/50 and 0/20: R 4.2.2 prop.test and Newcombe 1998, as in
// tests/reference/stats_reference.json.
TEST_F(TakesCommand, a_row_carries_the_published_interval_of_its_counts) {
  const auto rows = takes("pairing,grafted,taken\nA/R,50,45\nB/R,20,0\n").document()["rows"];
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0]["pairing"], "A/R");
  EXPECT_EQ(rows[0]["grafted"], 50);
  EXPECT_EQ(rows[0]["taken"], 45);
  EXPECT_DOUBLE_EQ(rows[0]["rate"], 0.9);
  EXPECT_NEAR(rows[0]["wilson_low"], 0.786398, 1e-6);
  EXPECT_NEAR(rows[0]["wilson_high"], 0.956524, 1e-6);
  EXPECT_NEAR(rows[1]["wilson_high"], 0.161125, 1e-6);
  EXPECT_LT(rows[0]["p05"], rows[0]["mean"]);
  EXPECT_LT(rows[0]["mean"], rows[0]["p95"]);
}

// A prototype of the same model, computed apart: 3 of 3 alone gives .847; no record at all .802.
TEST_F(TakesCommand, few_grafts_are_drawn_towards_what_is_usual) {
  const auto answer = takes("pairing,grafted,taken\nA,3,3\n").document();
  EXPECT_NEAR(answer["rows"][0]["mean"], 0.847, 0.001);
  EXPECT_NEAR(answer["prior"]["mean"], 0.802, 0.001);
}

TEST_F(TakesCommand, a_pairing_without_grafts_has_no_rate_and_more_taken_than_grafted_is_refused) {
  EXPECT_TRUE(takes("pairing,grafted,taken\nA,0,0\n").document()["rows"][0]["rate"].is_null());
  const auto said = takes("pairing,grafted,taken\nA,3,4\n");
  EXPECT_EQ(said.exit_code, 1);
  EXPECT_EQ(said.document()["error"]["where"], file_.string() + ":2");
}

}  // namespace
}  // namespace takehold::client
