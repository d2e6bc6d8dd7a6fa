// Several processes on one file, and one that is killed.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "daemon/store/transaction.hpp"
#include "sensors/quantity/problem.hpp"
#include "tests/daemon/store/shelf.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

template <class Work>
pid_t in_a_child(Work work) {
  const pid_t child = fork();
  if (child != 0) return child;
  try {
    work();
  } catch (...) {
    _exit(1);
  }
  _exit(0);
}

int exit_code_of(pid_t child) {
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST(TwoProcesses, counting_at_once_loses_no_count) {
  constexpr int kChildren = 4;
  constexpr int kRounds = 25;
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  std::vector<pid_t> children;
  for (int c = 0; c < kChildren; ++c) {
    children.push_back(in_a_child([&] {  // the first to come makes the file
      auto options = shelf_options(2);
      options.busy_timeout = std::chrono::seconds(60);
      Store store = Store::open(file, options);
      for (int i = 0; i < kRounds; ++i) {
        Transaction all(store);
        const int seeds =
            store.database().execAndGet("SELECT coalesce(max(seeds), 0) FROM jar").getInt();
        store.database().exec("INSERT INTO jar(seeds) VALUES (" + std::to_string(seeds + 1) + ")");
        all.commit();
      }
    }));
  }
  for (const pid_t child : children) EXPECT_EQ(exit_code_of(child), 0);
  Store store = Store::open(file, shelf_options(2));
  EXPECT_EQ(store.database().execAndGet("SELECT max(seeds) FROM jar").getInt(),
            kChildren * kRounds);
}

TEST(TwoProcesses, a_lock_held_too_long_is_refused_as_busy) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  Store first = Store::open(file, shelf_options(1));
  Transaction held(first);
  const int code = exit_code_of(in_a_child([&] {
    auto options = shelf_options(1);
    options.busy_timeout = std::chrono::milliseconds(50);
    Store second = Store::open(file, options);
    try {
      Transaction all(second);
    } catch (const sensors::Refused& refused) {
      _exit(refused.problem().code == "busy" ? 7 : 8);
    }
  }));
  EXPECT_EQ(code, 7);
}

/// Kills a process that commits rows one by one and tells each number after its commit.
int acknowledged_before_kill(const std::filesystem::path& file, Journal journal, int wanted) {
  int ends[2];
  if (pipe(ends) != 0) return -1;
  const pid_t child = in_a_child([&] {
    Store store = Store::open(file, shelf_options(1, journal));
    for (int i = 1;; ++i) {
      Transaction all(store);
      store.database().exec("INSERT INTO jar VALUES (" + std::to_string(i) + ", 1)");
      all.commit();
      if (write(ends[1], &i, sizeof i) != sizeof i) _exit(2);
    }
  });
  close(ends[1]);
  int last = 0;
  while (last < wanted && read(ends[0], &last, sizeof last) == sizeof last) {
  }
  kill(child, SIGKILL);
  exit_code_of(child);
  for (int more = 0; read(ends[0], &more, sizeof more) == sizeof more;) last = more;
  close(ends[0]);
  return last;
}

TEST(TwoProcesses, a_killed_writer_loses_nothing_it_acknowledged) {
  for (const Journal journal : {Journal::rollback, Journal::wal}) {
    for (int wanted = 1; wanted <= 41; wanted += 10) {
      TemporaryFolder folder;
      const auto file = folder / "shelf.db";
      const int last = acknowledged_before_kill(file, journal, wanted);
      ASSERT_GE(last, wanted);
      Store store = Store::open(file, shelf_options(1, journal));
      EXPECT_EQ(store.database().execAndGet("PRAGMA integrity_check").getString(), "ok");
      const int rows = store.database().execAndGet("SELECT count(*) FROM jar").getInt();
      EXPECT_GE(rows, last);
      EXPECT_LE(rows, last + 1);  // one may have been committed and not yet told
    }
  }
}

}  // namespace
}  // namespace takehold::daemon
