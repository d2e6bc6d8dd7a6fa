#include "client/command/child_program.hpp"

#include <gtest/gtest.h>
#include <signal.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

using namespace std::chrono_literals;

class ChildProgramTest : public testing::Test {
 protected:
  ChildProgramTest() {
    output_ = std::filesystem::temp_directory_path() /
              ("takehold-child-" + std::to_string(::getpid()) + ".txt");
  }
  ~ChildProgramTest() override { std::filesystem::remove(output_); }

  std::string output() const {
    std::stringstream text;
    text << std::ifstream(output_).rdbuf();
    return text.str();
  }

  std::filesystem::path output_;
};

TEST_F(ChildProgramTest, its_words_land_in_the_file_and_its_exit_code_is_told) {
  ChildProgram child("/bin/sh", {"-c", "echo said; echo told >&2; exit 3"}, output_);
  while (child.is_running()) ::usleep(1000);
  EXPECT_EQ(child.stop(), 3);
  EXPECT_EQ(output(), "said\ntold\n");
}

TEST_F(ChildProgramTest, leaving_the_scope_ends_it) {
  pid_t id = 0;
  {
    ChildProgram child("/bin/sleep", {"100"}, output_);
    id = child.id();
    EXPECT_EQ(::kill(id, 0), 0);
  }
  EXPECT_NE(::kill(id, 0), 0);
}

TEST_F(ChildProgramTest, one_that_will_not_listen_is_ended_after_the_patience) {
  ChildProgram child("/bin/sh", {"-c", "trap '' TERM; echo up; while :; do sleep 0.05; done"},
                     output_);
  while (output() != "up\n") ::usleep(1000);
  EXPECT_EQ(child.stop(100ms), -1);
  EXPECT_FALSE(child.is_running());
}

TEST_F(ChildProgramTest, a_program_that_is_not_beside_us_is_refused) {
  EXPECT_THROW(program_beside_us("no-such-program"), sensors::Refused);
}

}  // namespace
}  // namespace takehold::client
