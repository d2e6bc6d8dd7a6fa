// Random cases against an assignment solver that is not ours: R's clue::solve_LSAP (Hornik).
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <random>
#include <sstream>

#include "client/match/matching.hpp"
#include "embedded/places.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

struct Case {
  int tolerance;  // µm, or below 0: minus percent of the mean
  std::vector<Micrometres> x, y;

  Tolerance limit() const {
    return tolerance < 0 ? Tolerance::percent_of_mean(-tolerance)
                         : Tolerance::absolute(sensors::Millimetres::um(tolerance));
  }
};

std::vector<Case> random_cases() {
  std::mt19937 random(1966);
  std::vector<Case> cases;
  for (int round = 0; round < 300; ++round) {
    Case item{
        round % 2 == 0 ? static_cast<int>(random() % 200) : -1 - static_cast<int>(random() % 12),
        std::vector<Micrometres>(1 + random() % 40), std::vector<Micrometres>(1 + random() % 40)};
    const Micrometres spread = 50 + static_cast<Micrometres>(random() % 1200);
    for (auto* side : {&item.x, &item.y}) {
      for (auto& um : *side) um = 1500 + static_cast<Micrometres>(random()) % spread;
    }
    cases.push_back(item);
  }
  return cases;
}

TEST(Assignment, pairs_and_mismatch_equal_those_of_an_assignment_solver) {
  const auto cases = random_cases();
  const std::string file =
      ::testing::TempDir() + fmt::format("takehold_assignment_{}.txt", getpid());
  std::ofstream out(file);
  for (const auto& item : cases) {
    out << fmt::format("{};{};{}\n", item.tolerance, fmt::join(item.x, ","),
                       fmt::join(item.y, ","));
  }
  out.close();
  std::istringstream answers(testing::answer_of(
      "Rscript " TAKEHOLD_SOURCE_DIR "/tests/client/match/assignment.R " + file));
  std::remove(file.c_str());
  for (const auto& item : cases) {
    std::size_t pairs = 0;
    Micrometres total = 0;
    ASSERT_TRUE(answers >> pairs >> total);
    const Matching matching = match_stems(item.x, item.y, item.limit());
    EXPECT_EQ(matching.count(), pairs);
    EXPECT_EQ(matching.mismatch_total, total);
  }
}

}  // namespace
}  // namespace takehold::client
