// A writer killed with SIGKILL, again and again, at moments of no choosing. It tells through a pipe
// what record() returned from; that must be there afterwards, and nothing by halves.
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <random>
#include <sstream>
#include <thread>

#include "tests/client/book/book_fixture.hpp"

namespace takehold::client {
namespace {

constexpr int kPlants = 40;  // a record of some size, so that a kill can fall into it

class WriterKilled : public BookTest {
 protected:
  // Records without end and reports each number once it is acknowledged.
  [[noreturn]] void write_until_killed(int pipe) {
    Book book = open();
    while (true) {
      const std::string id = graft(book, kPlants);
      const std::string line = id.substr(1) + "\n";
      if (::write(pipe, line.data(), line.size()) < 0) ::_exit(1);
    }
  }

  // Waits for `records` acknowledgements, then a little, then kills. Returns the last number that
  // was acknowledged.
  int run_and_kill(int records, std::chrono::microseconds then) {
    int ends[2];
    EXPECT_EQ(::pipe(ends), 0);
    const pid_t writer = ::fork();
    if (writer == 0) {
      ::close(ends[0]);
      write_until_killed(ends[1]);
    }
    ::close(ends[1]);
    std::string told;
    while (std::count(told.begin(), told.end(), '\n') < records && read_more(ends[0], told)) {
    }
    std::this_thread::sleep_for(then);
    ::kill(writer, SIGKILL);
    int status = 0;
    ::waitpid(writer, &status, 0);
    EXPECT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
    while (read_more(ends[0], told)) {
    }
    ::close(ends[0]);
    return last_number(told);
  }

  static bool read_more(int pipe, std::string& told) {
    char buffer[4096];
    const ssize_t n = ::read(pipe, buffer, sizeof buffer);
    if (n <= 0) return false;
    told.append(buffer, static_cast<std::size_t>(n));
    return true;
  }

  static int last_number(const std::string& told) {
    int last = 0;
    std::istringstream lines(told);
    for (int number = 0; lines >> number;) last = number;
    return last;
  }
};

TEST_F(WriterKilled, in_the_middle_of_a_record_loses_nothing_acknowledged) {
  {
    Book book = open();
    add_seed(book);
  }
  std::mt19937 random(20270301);
  int acknowledged = 0;
  for (int round = 0; round < 25; ++round) {
    const auto then = std::chrono::microseconds(random() % 3000);
    acknowledged = std::max(acknowledged, run_and_kill(1 + static_cast<int>(random() % 3), then));
    Book book = open();
    const auto batches = book.all<Batch>();
    const int kept = static_cast<int>(batches.size());
    EXPECT_GE(kept, acknowledged) << "round " << round;
    EXPECT_LE(kept, acknowledged + round + 1);  // at most the one under way, each round
    for (const Batch& batch : batches) EXPECT_EQ(batch.count(), kPlants);
    EXPECT_EQ(book.waiting().size(), batches.size());
    EXPECT_EQ(book.commands().size(), batches.size() + 3);
    EXPECT_TRUE(book.complaints().empty());
  }
  EXPECT_GE(acknowledged, 25);
}

TEST_F(WriterKilled, leaves_the_lock_free_for_the_next) {
  {
    Book book = open();
    add_seed(book);
  }
  run_and_kill(2, std::chrono::milliseconds(1));
  Book book = open();
  EXPECT_EQ(sow(book, 3), "S1");
}

}  // namespace
}  // namespace takehold::client
